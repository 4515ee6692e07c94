import { indexAtOrBefore, type Piece, pieceFinder } from './piece.ts';
import { kernelHalfWidth } from './smoothing-kernel.ts';

export interface LocalQuadraticInput {
  /** [s], strictly increasing inside each piece, any spacing. */
  readonly times: Float64Array;
  /** As long as `times`, NaN = missing. */
  readonly samples: Float64Array;
  readonly pieces: readonly Piece[];
  /** −3 dB frequency of the value's transfer function in the interior [Hz]. */
  readonly bandwidth: number;
  /** Wanted times [s]; default: `times`. */
  readonly at?: Float64Array;
}

/**
 * All as long as `at`, NaN where unknown.
 * value [unit], slope [unit/s]; valueGain [1] and slopeGain [1/s]: standard uncertainty per white-noise standard deviation.
 */
export interface LocalQuadratic {
  readonly value: Float64Array;
  readonly slope: Float64Array;
  readonly valueGain: Float64Array;
  readonly slopeGain: Float64Array;
}

/** Fewest samples under the kernel for an answer. @source our default: one more than the three parameters */
export const FEWEST_SAMPLES = 4;

/**
 * Smoothed value and slope by local quadratic regression with tricube weights.
 *
 *     min Σ w((ti − t)/H)·(yi − a − b·(ti − t) − c·(ti − t)²)²      value = a, slope = b, H = 0.712/bandwidth
 *     valueGain = √Σ li², slopeGain = √Σ mi²                        for a = Σ li·yi, b = Σ mi·yi
 *
 * Never looks across the border of a piece; towards a border the kernel becomes one-sided and the gains grow. Missing samples
 * are dropped. NaN with fewer than 4 usable samples under the kernel, and before the first or after the last usable one there:
 * nothing is extrapolated. Where the time spans of two pieces overlap, an explicit `at` is answered from the earlier piece.
 *
 * @valid   no border nearer than H; on equal spacing the −3 dB point holds to 0.05 dB up to a bandwidth of 0.14 of the sample rate, to
 *          0.5 dB up to 0.22, beyond which fewer than 7 samples lie under the kernel. The gains hold for white noise
 * @source  Cleveland, J. Am. Stat. Assoc. 74 (1979) 829; Fan & Gijbels, Local Polynomial Modelling (1996); kernel width: own derivation
 */
export function localQuadratic(input: LocalQuadraticInput): LocalQuadratic {
  const { times, samples, pieces } = input;
  if (times.length !== samples.length) throw new RangeError('times and samples of unequal length');
  const at = input.at ?? times;
  const halfWidth = kernelHalfWidth(input.bandwidth);
  const result: LocalQuadratic = {
    value: missing(at.length),
    slope: missing(at.length),
    valueGain: missing(at.length),
    slopeGain: missing(at.length),
  };
  const fit = new Float64Array(4);
  const sums = new Float64Array(14);
  if (input.at) {
    const pieceAt = pieceFinder(times, pieces);
    for (let i = 0; i < at.length; i++) {
      const piece = pieceAt(at[i]);
      if (!piece) continue;
      const from = indexAtOrBefore(times, piece, at[i] - halfWidth) + 1;
      const to = indexAtOrBefore(times, piece, at[i] + halfWidth) + 1;
      if (fitInto(fit, sums, { times, samples, from, to, t: at[i], halfWidth })) store(result, i, fit);
    }
    return result;
  }
  for (const piece of pieces) {
    let from = piece.from;
    let to = piece.from;
    for (let i = piece.from; i < piece.to; i++) {
      while (times[from] <= times[i] - halfWidth) from++;
      while (to < piece.to && times[to] < times[i] + halfWidth) to++;
      if (fitInto(fit, sums, { times, samples, from, to, t: times[i], halfWidth })) store(result, i, fit);
    }
  }
  return result;
}

interface Window {
  readonly times: Float64Array;
  readonly samples: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly t: number;
  readonly halfWidth: number;
}

/**
 * Gathers in one pass the moments of the weights (sums 0–4), of the squared weights (5–9) and of the weighted samples (10–12),
 * all over u = (ti − t)/H; sums[13] is the first usable sample, from which the others count, so that a large common level costs
 * no digits. False when there is no answer.
 */
function momentsInto(sums: Float64Array, { times, samples, from, to, t, halfWidth }: Window): boolean {
  sums.fill(0);
  let count = 0;
  let first = 0;
  let last = 0;
  for (let i = from; i < to; i++) {
    const sample = samples[i];
    const u = (times[i] - t) / halfWidth;
    const a = Math.abs(u);
    if (Number.isNaN(sample) || a >= 1) continue;
    if (count++ === 0) {
      sums[13] = sample;
      first = u;
    }
    last = u;
    const cut = 1 - a * a * a;
    const uu = u * u;
    const w = cut * cut * cut;
    const ww = w * w;
    const wy = w * (sample - sums[13]);
    sums[0] += w;
    sums[1] += w * u;
    sums[2] += w * uu;
    sums[3] += w * uu * u;
    sums[4] += w * uu * uu;
    sums[5] += ww;
    sums[6] += ww * u;
    sums[7] += ww * uu;
    sums[8] += ww * uu * u;
    sums[9] += ww * uu * uu;
    sums[10] += wy;
    sums[11] += wy * u;
    sums[12] += wy * uu;
  }
  return count >= FEWEST_SAMPLES && first <= 0 && last >= 0;
}

/** out = value, slope, valueGain, slopeGain at t; false when there is no answer. */
function fitInto(out: Float64Array, sums: Float64Array, window: Window): boolean {
  if (!momentsInto(sums, window)) return false;
  const { 0: s0, 1: s1, 2: s2, 3: s3, 4: s4, 5: q0, 6: q1, 7: q2, 8: q3, 9: q4, 10: y0, 11: y1, 12: y2 } = sums;
  // rows of the inverse moment matrix, before division by its determinant
  const a0 = s2 * s4 - s3 * s3;
  const a1 = s2 * s3 - s1 * s4;
  const a2 = s1 * s3 - s2 * s2;
  const b1 = s0 * s4 - s2 * s2;
  const b2 = s1 * s2 - s0 * s3;
  const determinant = s0 * a0 + s1 * a1 + s2 * a2;
  if (!(determinant > 0)) return false;
  out[0] = sums[13] + (a0 * y0 + a1 * y1 + a2 * y2) / determinant;
  out[1] = (a1 * y0 + b1 * y1 + b2 * y2) / determinant / window.halfWidth;
  const value = a0 * a0 * q0 + 2 * a0 * a1 * q1 + (2 * a0 * a2 + a1 * a1) * q2 + 2 * a1 * a2 * q3 + a2 * a2 * q4;
  const slope = a1 * a1 * q0 + 2 * a1 * b1 * q1 + (2 * a1 * b2 + b1 * b1) * q2 + 2 * b1 * b2 * q3 + b2 * b2 * q4;
  out[2] = Math.sqrt(value) / determinant;
  out[3] = Math.sqrt(slope) / determinant / window.halfWidth;
  return true;
}

function store(result: LocalQuadratic, i: number, fit: Float64Array): void {
  result.value[i] = fit[0];
  result.slope[i] = fit[1];
  result.valueGain[i] = fit[2];
  result.slopeGain[i] = fit[3];
}

function missing(length: number): Float64Array {
  return new Float64Array(length).fill(Number.NaN);
}
