import { type MissingPolicy, usableSamples } from './missing.ts';

export interface QuantileInput {
  readonly samples: ArrayLike<number>;
  /** 0 … 1 */
  readonly probability: number;
  readonly missing: MissingPolicy;
}

/**
 * Sample quantile of type 7: linear between order statistics at position (n − 1)·p [unit of samples].
 *
 * One sample: that sample, for every p. Nothing usable: NaN.
 *
 * @source  Hyndman & Fan, Am. Stat. 50 (1996) 361, definition 7
 */
export function quantile({ samples, probability, missing }: QuantileInput): number {
  if (!(probability >= 0 && probability <= 1)) throw new RangeError(`invalid probability: ${probability}`);
  const sorted = usableSamples(samples, missing)?.sort();
  return sorted ? quantileOfSorted(sorted, probability) : Number.NaN;
}

/** Middle value, or the mean of the two middle values [unit of samples]; NaN when nothing is usable. */
export function median(samples: ArrayLike<number>, missing: MissingPolicy): number {
  return quantile({ samples, probability: 0.5, missing });
}

/** As {@link quantile}, for samples that are sorted already and complete. */
export function quantileOfSorted(sorted: Float64Array, probability: number): number {
  if (sorted.length === 0) return Number.NaN;
  const position = (sorted.length - 1) * probability;
  const below = Math.floor(position);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
}
