import { STANDARD_ATMOSPHERE } from '../../../quantities/index.ts';
import type { Part } from './grid.ts';
import { DELAY } from './ignition-delay.ts';
import type { Workspace } from './workspace.ts';

export interface KnockInput {
  readonly octane: number;
  readonly delayFactor: number;
  readonly turning: number;
}

/**
 * Knock integral of the end gas [1], from intake closing to half the burning part, 82 % burned: what is left then no longer
 * knocks audibly. The rates 1/τ at the nodes stay in the trace.
 *
 * @source  Livengood and Wu 1955 with closed/ignition-delay.ts, Simpson's rule; end at 82 %: our default
 */
export function knockOf(w: Workspace, [first, burning]: readonly [Part, Part, Part], input: KnockInput): number {
  const { delayRate, pressure, unburned } = w.trace;
  const scale =
    -Math.log(DELAY.scale * input.delayFactor) -
    DELAY.octane * Math.log(input.octane / 100) +
    DELAY.pressure * Math.log(STANDARD_ATMOSPHERE);
  const end = burning.node + burning.steps / 2;
  for (let i = 0; i < delayRate.length; i++) {
    delayRate[i] =
      i > end ? Number.NaN : Math.exp(scale - DELAY.pressure * Math.log(pressure[i]) - DELAY.temperature / unburned[i]);
  }
  const before = simpson(delayRate, { from: 0, to: burning.node, step: first.step });
  const during = simpson(delayRate, { from: burning.node, to: end, step: burning.step });
  return (before + during) / input.turning;
}

/** @source Simpson's rule; an even number of steps */
function simpson(
  values: Float64Array,
  { from, to, step }: { readonly from: number; readonly to: number; readonly step: number },
): number {
  let sum = values[from] - values[to];
  for (let i = from + 1; i <= to; i += 2) sum += 4 * values[i] + 2 * values[i + 1];
  return (sum * step) / 3;
}
