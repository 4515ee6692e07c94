import { type ClosedInput, closedCycle } from '../../core/physics/cycle/closed/closed-cycle.ts';
import {
  F,
  type StepCounts,
  USUAL_STEPS,
  type Workspace,
  workspace,
} from '../../core/physics/cycle/closed/workspace.ts';
import { GRID, ROOT_CENTRE, ROOT_HALF } from '../../core/physics/cycle/gas/burned-table.ts';
import { petrol } from '../../core/physics/cycle/gas/fuels.ts';
import { gasModel } from '../../core/physics/cycle/gas/gas-model.ts';
import { cylinderVolume } from '../../core/physics/cycle/mechanism/cylinder.ts';
import { length, ratio } from '../../core/quantities/index.ts';

const DEGREE = Math.PI / 180;

/** One full-load state of an invented boosted engine: 86 × 86 mm, ratio 9.5, 4000 rpm, 1.8 bar. */
export function boostedInput(): ClosedInput {
  const gas = gasModel(petrol(98)).of({ lambda: 0.85, humidityRatio: 0.008 });
  const shape = { bore: length(0.086), stroke: length(0.086), rod: length(0.143), compressionRatio: ratio(9.5) };
  const residual = 0.04;
  const R = (1 - residual) * gas.freshConstant + residual * gas.residualConstant;
  const intakeCloses = -130 * DEGREE;
  const [pressure, temperature] = [1.8e5, 360];
  return {
    shape,
    gas,
    span: {
      intakeCloses,
      exhaustOpens: 130 * DEGREE,
      wiebe: { start: -12 * DEGREE, duration: 55 * DEGREE },
      burnedShare: 0.98,
    },
    turning: (4000 * Math.PI) / 30,
    charge: {
      mass: (pressure * cylinderVolume(shape, intakeCloses)) / (R * temperature),
      pressure,
      temperature,
      residual,
    },
    wallTemperature: 450,
    heatFactor: 1.2,
    leakArea: 0,
    crankcasePressure: 95e3,
    octane: 93,
    delayFactor: 1,
  };
}

export interface Timed {
  readonly work: number;
  readonly knock: number;
  /** Processor seconds per cycle. */
  readonly seconds: number;
}

/** So many cycles in TypeScript, the start of burning moving by 1e-6 rad from one to the next so that nothing can be kept. */
export function closedInTypeScript(input: ClosedInput, cycles: number, w: Workspace = workspace(USUAL_STEPS)): Timed {
  let work = 0;
  let knock = 0;
  const { wiebe } = input.span;
  const started = process.cpuUsage().user;
  for (let cycle = 0; cycle < cycles; cycle++) {
    const start = wiebe.start + 1e-6 * cycle;
    const result = closedCycle(w, { ...input, span: { ...input.span, wiebe: { ...wiebe, start } } });
    work += result.work;
    knock += result.knockIntegral;
  }
  const seconds = (process.cpuUsage().user - started) / 1e6 / cycles;
  return { work: work / cycles, knock: knock / cycles, seconds };
}

/** What closed-cycle.c reads, after one cycle has filled the workspace. */
export function numbersForC(input: ClosedInput, cycles: number, steps: StepCounts = USUAL_STEPS): Float64Array {
  const w = workspace(steps);
  closedCycle(w, input);
  const { shape, span, charge } = input;
  return Float64Array.from([
    ...[cycles, steps.compression, steps.burning, steps.expansion],
    ...[shape.bore, shape.stroke, shape.rod, shape.compressionRatio],
    ...[span.intakeCloses, span.exhaustOpens, span.wiebe.start, span.wiebe.duration, span.burnedShare],
    ...[
      input.turning,
      charge.mass,
      charge.pressure,
      charge.temperature,
      w.frame[F.freshConstant],
      input.wallTemperature,
    ],
    ...[input.heatFactor, w.frame[F.reference], input.octane],
    ...w.unburned,
    ...[GRID.cells, GRID.firstEnthalpy, GRID.enthalpyStep, ROOT_CENTRE, ROOT_HALF],
    ...w.burned,
  ]);
}
