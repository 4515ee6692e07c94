import type { Piece } from '../signals/piece.ts';

export interface TrapezoidInput {
  readonly times: Float64Array;
  readonly samples: Float64Array;
  readonly pieces: readonly Piece[];
}

/** integral over the part that could be integrated, and how much time that part covers [s]. */
export interface TrapezoidIntegral {
  readonly integral: number;
  readonly covered: number;
}

/**
 * Integral over time by the trapezoidal rule [unit·s].
 *
 * Intervals with a missing end, and everything between pieces, are left out and show as missing in `covered`;
 * nothing covered gives an integral of NaN.
 *
 * @source  trapezoidal rule; rule for gaps: our default
 */
export function trapezoid({ times, samples, pieces }: TrapezoidInput): TrapezoidIntegral {
  if (times.length !== samples.length) throw new RangeError('times and samples of unequal length');
  let integral = 0;
  let covered = 0;
  for (const { from, to } of pieces) {
    for (let i = from + 1; i < to; i++) {
      const mean = (samples[i] + samples[i - 1]) / 2;
      if (Number.isNaN(mean)) continue;
      integral += mean * (times[i] - times[i - 1]);
      covered += times[i] - times[i - 1];
    }
  }
  return { integral: covered > 0 ? integral : Number.NaN, covered };
}

export interface QuadratureRange {
  readonly from: number;
  readonly to: number;
  /** Wanted relative error; default 1e-10. */
  readonly tolerance?: number;
}

/**
 * ∫ f(x) dx by adaptive Simpson steps with Richardson correction.
 *
 * @param f smooth on the range, finite at its ends
 * @valid   at most 2^40 halvings deep is cut off silently; meant for smooth integrands
 * @source  Lyness, J. ACM 16 (1969) 483
 */
export function quadrature(f: (x: number) => number, { from, to, tolerance = 1e-10 }: QuadratureRange): number {
  if (from === to) return 0;
  const middle = (from + to) / 2;
  const values = { a: f(from), m: f(middle), b: f(to) };
  const whole = ((to - from) / 6) * (values.a + 4 * values.m + values.b);
  // a coarse look at the size of the integral, so that a peak missed by three points does not set the error bound
  let size = Math.abs(whole);
  for (let k = 1; k < 16; k++) size = Math.max(size, Math.abs(((to - from) * f(from + (k * (to - from)) / 16)) / 16));
  const bound = Math.max(size * tolerance, Number.MIN_VALUE);
  return refined({ f, from, to, ...values, whole, bound, depth: 0 });
}

interface Part {
  readonly f: (x: number) => number;
  readonly from: number;
  readonly to: number;
  readonly a: number;
  readonly m: number;
  readonly b: number;
  readonly whole: number;
  readonly bound: number;
  readonly depth: number;
}

/** At least three halvings, so that a symmetric integrand does not pass by luck. */
function refined(part: Part): number {
  const { f, from, to, a, m, b, whole, bound, depth } = part;
  const middle = (from + to) / 2;
  const left = f((from + middle) / 2);
  const right = f((middle + to) / 2);
  const lower = ((middle - from) / 6) * (a + 4 * left + m);
  const upper = ((to - middle) / 6) * (m + 4 * right + b);
  const change = lower + upper - whole;
  if ((depth >= 3 && Math.abs(change) <= 15 * bound) || depth >= 40) return lower + upper + change / 15;
  const deeper = { f, bound: bound / 2, depth: depth + 1 };
  return (
    refined({ ...deeper, from, to: middle, a, m: left, b: m, whole: lower }) +
    refined({ ...deeper, from: middle, to, a: m, m: right, b, whole: upper })
  );
}
