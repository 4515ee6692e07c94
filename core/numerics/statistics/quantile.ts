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
  const values = usableSamples(samples, missing);
  if (!values || values.length === 0) return Number.NaN;
  const position = (values.length - 1) * probability;
  const below = Math.floor(position);
  const low = orderStatisticInto(values, below);
  if (position === below) return low;
  let next = Number.POSITIVE_INFINITY;
  for (let i = below + 1; i < values.length; i++) if (values[i] < next) next = values[i];
  return low + (position - below) * (next - low);
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

/**
 * The k-th smallest value [unit of values]; afterwards everything before index k is no larger and everything behind no smaller.
 * Linear time on average: much less work than sorting when one quantile is wanted.
 *
 * @param values complete, reordered in place @param k 0 … length − 1
 * @source  Hoare, Algorithm 65: FIND, Commun. ACM 4 (1961) 321, with the middle of three as pivot
 */
function orderStatisticInto(values: Float64Array, k: number): number {
  let left = 0;
  let right = values.length - 1;
  while (left < right) {
    const pivot = middleOfThree(values[left], values[(left + right) >> 1], values[right]);
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i > j) break;
      const kept = values[i];
      values[i++] = values[j];
      values[j--] = kept;
    }
    if (k <= j) right = j;
    else if (k >= i) left = i;
    else break;
  }
  return values[k];
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
