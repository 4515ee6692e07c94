import { toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Piece } from '../../channels/index.ts';
import type { PullSignals } from './chain.ts';

/** Steps of the curve. @source our default: finer than any stated bandwidth resolves */
const ENGINE_STEP = toSi(50, unitOf('rpm'));
const SPEED_STEP = 0.5;

/** Where the points of a curve lie: for each, the sample before it and how far it is towards the next one; −1 where there is none. */
export interface Grid {
  readonly axis: 'engine-speed' | 'roll-speed';
  readonly before: Int32Array;
  readonly share: Float64Array;
}

/**
 * Points at whole steps of engine speed where it rises through the pull, else of roll speed (no engine speed, or a gear change).
 * A step that is crossed more than once counts where it is crossed first. No point lies between two pieces.
 *
 * @param signals smoothed signals of the pull @param pieces index ranges without a gap, on the same indices
 */
export function curveGrid(signals: PullSignals, pieces: readonly Piece[]): Grid {
  const rises = mostlyRises(signals.engineSpeed);
  const along = rises ? signals.engineSpeed : signals.speed;
  const step = rises ? ENGINE_STEP : SPEED_STEP;
  const bySteps = new Map<number, { before: number; share: number }>();
  for (const { from, to } of pieces) {
    for (let i = from; i + 1 < to; i++) {
      if (!(along[i + 1] > along[i])) continue;
      for (let k = Math.ceil(along[i] / step); k * step <= along[i + 1]; k++) {
        if (!bySteps.has(k)) bySteps.set(k, { before: i, share: (k * step - along[i]) / (along[i + 1] - along[i]) });
      }
    }
  }
  const steps = [...bySteps.keys()].sort((a, b) => a - b);
  const first = steps[0] ?? 0;
  const count = steps.length === 0 ? 0 : steps[steps.length - 1] - first + 1;
  const before = new Int32Array(count).fill(-1);
  const share = new Float64Array(count);
  for (const [k, point] of bySteps) {
    before[k - first] = point.before;
    share[k - first] = point.share;
  }
  return { axis: rises ? 'engine-speed' : 'roll-speed', before, share };
}

/** A series at the points of the grid: linear between its two samples, NaN where there is no point. */
export function onGrid(grid: Grid, series: Float64Array): Float64Array {
  return Float64Array.from(grid.before, (i, point) =>
    i < 0 ? Number.NaN : series[i] + (series[i + 1] - series[i]) * grid.share[point],
  );
}

/** Share of falling steps up to which a smoothed engine speed still counts as rising [1]. @source our default */
const FALLING_SHARE = 0.1;

function mostlyRises(engineSpeed: Float64Array): boolean {
  let known = 0;
  let fell = 0;
  let deepest = 0;
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < engineSpeed.length; i++) {
    const step = engineSpeed[i] - engineSpeed[i - 1];
    if (!Number.isFinite(step)) continue;
    known++;
    if (step < 0) fell++;
    top = Math.max(top, engineSpeed[i]);
    deepest = Math.max(deepest, top - engineSpeed[i]);
  }
  const range = top - (engineSpeed.find((value) => Number.isFinite(value)) ?? top);
  return known > engineSpeed.length / 2 && fell < FALLING_SHARE * known && deepest < range / 6;
}
