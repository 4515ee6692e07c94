import { answered, type Finding, type Outcome, refused } from '../../../quantities/index.ts';
import { BURN_SPAN } from '../closed/grid.ts';
import { COARSE_STEPS, type StepCounts, USUAL_STEPS, type Workspace, workspace } from '../closed/workspace.ts';
import type { GasModel } from '../gas/gas-model.ts';
import { refusalOf } from './checks.ts';
import { type CycleEngine, type ValveAngles, valveAngles } from './engine.ts';
import { type Pass, passOver, startingResidualTemperature } from './pass.ts';
import type { CycleResult, CycleTrace } from './result.ts';
import type { CycleState } from './state.ts';
import { resultOf } from './summary.ts';

export interface SolverOptions {
  readonly steps?: StepCounts;
  /** Times the cycle is computed, each with the residual gas of the one before, the last one with all steps; default 2. */
  readonly passes?: number;
}

/** A model of one engine on one fuel, with arrays that are made once. */
export interface CycleSolver {
  /** Steady state of the engine, or why it cannot be computed. */
  readonly solve: (state: CycleState) => Outcome<CycleResult>;
  /** Copies of the traces of the last cycle solved. */
  readonly trace: () => CycleTrace;
}

/** @param gas of the fuel, from {@link gasModel}; several solvers of one thread may share it */
export function cycleSolver(engine: CycleEngine, gas: GasModel, options: SolverOptions = {}): CycleSolver {
  const w = workspace(options.steps ?? USUAL_STEPS);
  const coarse = workspace(COARSE_STEPS);
  const passes = options.passes ?? 2;
  return {
    solve: (state) => {
      const valves = valveAngles(engine.timing, { intake: state.intakePhase, exhaust: state.exhaustPhase });
      const refusal = refusalOf({ engine, state, valves });
      if (refusal) return refused(refusal);
      let residual = startingResidualTemperature(state);
      let pass: Pass | undefined;
      for (let i = 0; i < passes; i++) {
        pass = passOver(i === passes - 1 ? w : coarse, { engine, gas, state, valves, residualTemperature: residual });
        if (pass.wiebe.start <= valves.intakeCloses) return refused(tooEarly(pass, valves));
        residual = pass.residualTemperature;
      }
      if (!pass) throw new RangeError('a cycle needs at least one pass');
      return answered(resultOf(engine, state, pass), findingsOf(gas, pass, valves));
    },
    trace: () => traceOf(w),
  };
}

/**
 * Brake torque and all that comes with it at one state.
 *
 * For many states make the gas model and the solver once.
 */
export function brakeTorque(engine: CycleEngine, state: CycleState, gas: GasModel): Outcome<CycleResult> {
  return cycleSolver(engine, gas).solve(state);
}

function tooEarly(pass: Pass, valves: ValveAngles) {
  return {
    kind: 'out of validity',
    message: 'burning would begin before the intake closes',
    numbers: { start: pass.wiebe.start, intakeCloses: valves.intakeCloses },
    rule: 'closed part of the cycle',
  };
}

/** Octane numbers for which the knock law was made. @source Douaud and Eyzat SAE 780080 (from memory) */
const OCTANE_RANGE = { low: 80, high: 100 } as const;

function findingsOf(gas: GasModel, pass: Pass, valves: ValveAngles): readonly Finding[] {
  const findings: Finding[] = [];
  const { octane } = gas.fuel;
  if (octane < OCTANE_RANGE.low || octane > OCTANE_RANGE.high) {
    findings.push({
      kind: 'knock law out of validity',
      weight: 'doubt',
      message: `octane number out of validity: ${octane}, valid ${OCTANE_RANGE.low}–${OCTANE_RANGE.high}`,
      numbers: { octane, ...OCTANE_RANGE },
      rule: 'Douaud and Eyzat',
    });
  }
  const end = pass.wiebe.start + BURN_SPAN * pass.wiebe.duration;
  if (end > valves.exhaustOpens) {
    findings.push({
      kind: 'still burning at exhaust opening',
      weight: 'doubt',
      message: 'burning is not over when the exhaust opens; what is left is taken as unburned',
      numbers: { end, exhaustOpens: valves.exhaustOpens },
      rule: 'end of the closed part',
    });
  }
  return findings;
}

function traceOf({ trace }: Workspace): CycleTrace {
  return {
    angle: trace.angle.slice(),
    pressure: trace.pressure.slice(),
    unburnedTemperature: trace.unburned.slice(),
    burnedTemperature: trace.burned.slice(),
    burnedShare: trace.share.slice(),
  };
}
