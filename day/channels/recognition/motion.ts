import { median } from '../../../core/numerics/index.ts';

/** Speed [m/s] over time [s]. */
export interface Moving {
  readonly time: Float64Array;
  readonly speed: Float64Array;
}

/** Points that a window is thinned to when rows are dense. */
const POINTS = 60;
/** Rows that a window holds at least on each side. */
const LEAST_SIDE = 2;

/** Median step between rows [s]. */
export function middleStep(time: Float64Array): number {
  return median(
    Array.from(time.subarray(1), (value, i) => value - time[i]).filter((step) => step > 0),
    'skip',
  );
}

/**
 * Slope of the straight line through the speeds around each row [m/s²]; NaN where too few are known.
 * @source least-squares line
 * @param window full width [s]
 */
export function accelerationOf({ time, speed }: Moving, window: number): Float64Array {
  const half = Math.max(LEAST_SIDE, Math.round(window / 2 / middleStep(time)));
  const stride = Math.max(1, Math.floor((2 * half) / POINTS));
  return speed.map((_, i) => {
    let [count, sumT, sumV, sumTT, sumTV] = [0, 0, 0, 0, 0];
    for (let k = Math.max(0, i - half); k <= Math.min(speed.length - 1, i + half); k += stride) {
      const t = time[k] - time[i];
      if (!Number.isFinite(t + speed[k]) || Math.abs(t) > window + 1) continue;
      count += 1;
      sumT += t;
      sumV += speed[k];
      sumTT += t * t;
      sumTV += t * speed[k];
    }
    const spread = count * sumTT - sumT * sumT;
    return count > 2 && spread > 0 ? (count * sumTV - sumT * sumV) / spread : Number.NaN;
  });
}

/**
 * How much of `accelerationOf` is noise of the speed [m/s²].
 * @source variance of a least-squares slope, 12 σ² / (n T²); σ from second differences, whose variance is 6 σ²
 */
export function accelerationNoise({ time, speed }: Moving, window: number): number {
  const bends = Array.from(speed, (value, i) => Math.abs(speed[i - 1] - 2 * value + speed[i + 1])).filter(
    Number.isFinite,
  );
  if (bends.length === 0) return 0;
  const sigma = (1.4826 * median(bends, 'skip')) / Math.sqrt(6);
  const rows = Math.max(3, Math.min(POINTS, window / middleStep(time)));
  return (sigma * Math.sqrt(12 / rows)) / window;
}
