import { median } from '../statistics/quantile.ts';
import { tricube } from './smoothing-kernel.ts';

export interface LowessInput {
  /** Increasing. */
  readonly x: Float64Array;
  /** As long as `x`; no missing samples. */
  readonly y: Float64Array;
  /** Share of all points in each neighbourhood, 0 … 1; at least 2 points. */
  readonly fraction: number;
  /** Reweightings against outliers, default 0. */
  readonly robustSteps?: number;
}

/**
 * Locally weighted straight lines, as long as `x` [unit of y].
 *
 * The neighbourhood is the ⌊fraction·n⌋ nearest points; distances are divided by that of the farthest of them; tricube weights.
 * Robust steps multiply by bisquare weights with six times the median absolute residual.
 *
 * @valid   sorted x without missing values (throws); equal x throughout a neighbourhood gives their weighted mean
 * @source  Cleveland, J. Am. Stat. Assoc. 74 (1979) 829
 */
export function lowess({ x, y, fraction, robustSteps = 0 }: LowessInput): Float64Array {
  if (x.length !== y.length || x.some(Number.isNaN) || y.some(Number.isNaN))
    throw new RangeError('unpaired or missing');
  if (x.some((value, i) => i > 0 && value < x[i - 1])) throw new RangeError('x is not increasing');
  if (!(fraction > 0 && fraction <= 1)) throw new RangeError(`invalid fraction: ${fraction}, expected 0–1`);
  const size = Math.min(x.length, Math.max(2, Math.floor(fraction * x.length + 1e-10)));
  const robustness = new Float64Array(x.length).fill(1);
  let fitted = once({ x, y, robustness, size });
  for (let step = 0; step < robustSteps; step++) {
    const residuals = y.map((value, i) => Math.abs(value - fitted[i]));
    const reach = 6 * median(residuals, 'refuse');
    for (let i = 0; i < x.length; i++) {
      const ratio = reach > 0 ? residuals[i] / reach : 0;
      robustness[i] = ratio >= 1 ? 0 : (1 - ratio * ratio) ** 2;
    }
    fitted = once({ x, y, robustness, size });
  }
  return fitted;
}

interface Pass {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly robustness: Float64Array;
  readonly size: number;
}

function once(pass: Pass): Float64Array {
  const { x, size } = pass;
  let from = 0;
  return x.map((centre) => {
    while (from + size < x.length && x[from + size] - centre < centre - x[from]) from++;
    return lineAt(pass, from, centre);
  });
}

function lineAt({ x, y, robustness, size }: Pass, from: number, centre: number): number {
  const reach = Math.max(centre - x[from], x[from + size - 1] - centre);
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let y0 = 0;
  let y1 = 0;
  for (let i = from; i < from + size; i++) {
    const d = x[i] - centre;
    const w = (reach > 0 ? tricube(d / reach) : 1) * robustness[i];
    s0 += w;
    s1 += w * d;
    s2 += w * d * d;
    y0 += w * y[i];
    y1 += w * d * y[i];
  }
  const determinant = s0 * s2 - s1 * s1;
  return determinant > 1e-14 * s0 * s2 ? (s2 * y0 - s1 * y1) / determinant : y0 / s0;
}
