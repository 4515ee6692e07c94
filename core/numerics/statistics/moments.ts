import { type MissingPolicy, usableSamples } from './missing.ts';

/** count of usable samples; deviation with divisor count − 1, NaN for fewer than two. */
export interface SampleSummary {
  readonly count: number;
  readonly mean: number;
  readonly deviation: number;
}

/**
 * Mean and standard deviation [unit of samples], divisor n − 1. Nothing usable: mean NaN.
 *
 * @source  two-pass algorithm with correction, Chan, Golub & LeVeque, Am. Stat. 37 (1983) 242
 */
export function sampleSummary(samples: ArrayLike<number>, missing: MissingPolicy): SampleSummary {
  const kept = usableSamples(samples, missing);
  if (!kept || kept.length === 0) return { count: 0, mean: Number.NaN, deviation: Number.NaN };
  const count = kept.length;
  // differences from the first sample: leading digits that all share cost nothing
  const base = kept[0];
  const shift = kept.reduce((sum, x) => sum + (x - base), 0) / count;
  let squares = 0;
  let rest = 0;
  for (const x of kept) {
    const d = x - base - shift;
    squares += d * d;
    rest += d;
  }
  const variance = (squares - (rest * rest) / count) / (count - 1);
  return { count, mean: base + shift, deviation: count > 1 ? Math.sqrt(variance) : Number.NaN };
}
