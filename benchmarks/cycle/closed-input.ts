import { type ClosedInput, closedCycle } from '../../core/physics/cycle/closed/closed-cycle.ts';
import {
  F,
  type StepCounts,
  USUAL_STEPS,
  type Workspace,
  workspace,
} from '../../core/physics/cycle/closed/workspace.ts';
import { GRID, ROOT_CENTRE, ROOT_HALF } from '../../core/physics/cycle/gas/burned-table.ts';

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
    ...[shape.bore, shape.stroke, shape.rodLength, shape.compressionRatio],
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
