export interface DecimatorInput {
  /** Whole number ≥ 1: one sample is kept of so many; 1 hands the samples on as they are. */
  readonly factor: number;
  /** Largest number of samples that will come; the result is at most ⌈expected/factor⌉ long. */
  readonly expected: number;
}

/** Takes samples in pieces of any length; `end` gives everything kept so far and may be called once. */
export interface Decimator {
  readonly push: (samples: Float64Array) => void;
  readonly end: () => Float64Array;
}

/** Half length of the filter in kept samples; attenuation asked of its window [dB]. @source our default */
const REACH = 16;
const ATTENUATION = 70;

/**
 * Keeps one sample of `factor`, behind a low-pass filter, for signals too long to hold at their own rate.
 *
 * Kept sample k stands where sample k·factor stood: the filter is symmetric, so nothing is moved in time. Flat within 0.1 % up to 0.4 of
 * the new rate; what would fold into that band is 70 dB down. Outside the signal zeros are assumed: the first and last 16 kept samples lean on them.
 *
 * @valid   no missing samples: a NaN spreads over 32 kept samples
 * @source  windowed sinc, Kaiser window: Kaiser, "Nonrecursive digital filter design using the I0-sinh window function" (1974), formula for the shape from the attenuation
 */
export function decimator({ factor, expected }: DecimatorInput): Decimator {
  if (!Number.isInteger(factor) || factor < 1)
    throw new RangeError(`invalid factor: ${factor}, expected a whole number from 1`);
  const kept = new Float64Array(Math.ceil(expected / factor));
  const half = factor === 1 ? 0 : REACH * factor;
  const taps = factor === 1 ? Float64Array.of(1) : lowPassTaps(factor, half);
  // holds the samples that later outputs still need; starts with the zeros before the signal
  let held: Float64Array = new Float64Array(half);
  let heldFrom = -half;
  let made = 0;
  let seen = 0;
  const run = (samples: Float64Array): void => {
    const joined = new Float64Array(held.length + samples.length);
    joined.set(held);
    joined.set(samples, held.length);
    const until = heldFrom + joined.length;
    for (; made < kept.length && made * factor + half < until; made++) {
      const start = made * factor - half - heldFrom;
      let sum = 0;
      for (let i = 0; i < taps.length; i++) sum += taps[i] * joined[start + i];
      kept[made] = sum;
    }
    const needed = Math.min(Math.max(0, made * factor - half - heldFrom), joined.length);
    held = joined.slice(needed);
    heldFrom += needed;
  };
  return {
    push(samples) {
      if (samples.length === 0) return;
      seen += samples.length;
      run(samples);
    },
    end() {
      const length = Math.min(kept.length, Math.ceil(seen / factor));
      run(new Float64Array(half + 1));
      return kept.subarray(0, length);
    },
  };
}

/** Symmetric, 2·half + 1 long, sum 1; −6 dB at half the new rate. */
function lowPassTaps(factor: number, half: number): Float64Array {
  const shape = 0.1102 * (ATTENUATION - 8.7);
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const x = (i - half) / factor;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    return sinc * besselI0(shape * Math.sqrt(1 - ((i - half) / half) ** 2));
  });
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => tap / sum);
}

/** Modified Bessel function of the first kind, order 0, by its power series. @source Abramowitz & Stegun 9.6.12 */
function besselI0(x: number): number {
  let sum = 1;
  let term = 1;
  for (let k = 1; term > 1e-16 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
