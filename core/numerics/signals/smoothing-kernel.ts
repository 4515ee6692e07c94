import { quadrature } from '../calculus/integrate.ts';

/**
 * Product of half width and −3 dB frequency of the local quadratic with tricube weights [1].
 *
 * The value at the middle of a dense, equally spaced record is a sum with the equivalent kernel
 *
 *     K(u) = w(u)·(µ4 − µ2·u²)/(µ0·µ4 − µ2²),   w(u) = (1 − |u|³)³,   µk = ∫ w·u^k du
 *
 * and passes a sine of frequency f with the gain T(f·H) = ∫ K(u)·cos(2π·f·H·u) du. This is the product for which T = 1/√2.
 *
 * @source  derived here; the test computes it again from the integrals
 */
export const HALF_WIDTH_TIMES_BANDWIDTH = 0.7122224531955599;

/** Reach of the kernel to either side [s]. @param bandwidth −3 dB frequency [Hz], > 0 */
export function kernelHalfWidth(bandwidth: number): number {
  if (!(bandwidth > 0)) throw new RangeError(`invalid bandwidth: ${bandwidth} Hz, expected above 0`);
  return HALF_WIDTH_TIMES_BANDWIDTH / bandwidth;
}

/** Tricube weight (1 − |u|³)³ for |u| < 1, else 0. @source Cleveland, J. Am. Stat. Assoc. 74 (1979) 829 */
export function tricube(u: number): number {
  const a = Math.abs(u);
  if (a >= 1) return 0;
  const t = 1 - a * a * a;
  return t * t * t;
}

/**
 * Gain of the smoother for a sine [1]: 1 at 0, 1/√2 at the bandwidth, negative in its side lobes.
 *
 * @param frequency [Hz] @param bandwidth −3 dB frequency [Hz]
 * @valid   dense, equally spaced samples, away from borders of a piece
 */
export function smoothingGain(frequency: number, bandwidth: number): number {
  const cycles = 2 * Math.PI * frequency * kernelHalfWidth(bandwidth);
  return 2 * quadrature((u) => equivalentKernel(u) * Math.cos(cycles * u), { from: 0, to: 1 });
}

export interface PeakInput {
  /** Value of the peak above the level it would decay to [unit]; same sign as the peak. */
  readonly peakValue: number;
  /** Second derivative at the peak [unit/s²], of the opposite sign. */
  readonly curvature: number;
  /** −3 dB frequency of the smoothing [Hz]. */
  readonly bandwidth: number;
}

/**
 * Share by which the smoothing lowers a peak [1], 0 … 1.
 *
 *     1 − ∫ K(u)·exp(−κ·H²·u²/2) du,   κ = −curvature/peakValue,   H the half width
 *
 * A local quadratic keeps a parabola exactly, so the second derivative alone lowers nothing: what counts is how fast the
 * peak leaves its parabola. Here it is taken as a bell (Gaussian) of that height and curvature, whose fourth derivative,
 * 3·κ²·peakValue, is three times that of a sine crest; for small κH² the share is −κ²·H⁴·µ*4/8 with µ*4 = ∫ u⁴·K du < 0.
 * A crest of sine shape is lowered by about a third of this.
 *
 * @valid   samples dense against the kernel; NaN when curvature and peak have the same sign (no peak). A curvature taken from
 *          the smoothed curve is itself too small, so the share is then a lower bound for a bell
 * @source  derived here; bias of local polynomials: Fan & Gijbels, Local Polynomial Modelling (1996), 3.2
 */
export function peakBias({ peakValue, curvature, bandwidth }: PeakInput): number {
  const sharpness = -curvature / peakValue;
  if (!(sharpness >= 0) || !Number.isFinite(sharpness)) return Number.NaN;
  const exponent = (sharpness * kernelHalfWidth(bandwidth) ** 2) / 2;
  const kept = 2 * quadrature((u) => equivalentKernel(u) * Math.exp(-exponent * u * u), { from: 0, to: 1 });
  return 1 - kept;
}

/** µ0, µ2, µ4 of the tricube weight, exact fractions from its expansion. @source integration by hand */
const MU0 = 2 * (1 - 3 / 4 + 3 / 7 - 1 / 10);
const MU2 = 2 * (1 / 3 - 3 / 6 + 3 / 9 - 1 / 12);
const MU4 = 2 * (1 / 5 - 3 / 8 + 3 / 11 - 1 / 14);

function equivalentKernel(u: number): number {
  return (tricube(u) * (MU4 - MU2 * u * u)) / (MU0 * MU4 - MU2 * MU2);
}
