import { studentCdf, studentQuantile } from './distributions.ts';
import { type MissingPolicy, usablePairs } from './missing.ts';
import { type SampleSummary, sampleSummary } from './moments.ts';

export interface ComparisonOptions {
  /** Level of the two-sided interval, 0 … 1; default 0.95. */
  readonly confidence?: number;
}

/**
 * difference = second − first, with its standard error and two-sided interval [unit of samples].
 * probability: of a difference at least as large, either way, if there were none. NaN throughout when a side has too few samples.
 */
export interface Comparison {
  readonly difference: number;
  readonly standardError: number;
  readonly t: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
  readonly low: number;
  readonly high: number;
}

/** Two sides of a comparison: raw samples, reduced by {@link sampleSummary}, or summaries from elsewhere. */
export interface Sides {
  readonly first: SampleSummary;
  readonly second: SampleSummary;
}

/** Summaries of two groups of samples. */
export function sidesOf(first: ArrayLike<number>, second: ArrayLike<number>, missing: MissingPolicy): Sides {
  return { first: sampleSummary(first, missing), second: sampleSummary(second, missing) };
}

/**
 * Two-sample t comparison that assumes equal variances.
 *
 *     s² = ((n1 − 1)·s1² + (n2 − 1)·s2²)/(n1 + n2 − 2),   t = (x̄2 − x̄1)/(s·√(1/n1 + 1/n2))
 *
 * @source  NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3
 */
export function pooledComparison({ first, second }: Sides, options: ComparisonOptions = {}): Comparison {
  const freedom = first.count + second.count - 2;
  const variance = pooledDeviation({ first, second }) ** 2;
  const standardError = Math.sqrt(variance / first.count + variance / second.count);
  return comparison({ difference: second.mean - first.mean, standardError, freedom }, options);
}

/** Common standard deviation of two groups [unit of samples], weighted by their degrees of freedom. */
export function pooledDeviation({ first, second }: Sides): number {
  const squares = (first.count - 1) * first.deviation ** 2 + (second.count - 1) * second.deviation ** 2;
  return Math.sqrt(squares / (first.count + second.count - 2));
}

/**
 * Two-sample t comparison that allows unequal variances (Welch).
 *
 * @source  Welch, Biometrika 34 (1947) 28; degrees of freedom after Satterthwaite, e-Handbook 1.3.5.3
 */
export function welchComparison({ first, second }: Sides, options: ComparisonOptions = {}): Comparison {
  const a = first.deviation ** 2 / first.count;
  const b = second.deviation ** 2 / second.count;
  const freedom = (a + b) ** 2 / (a ** 2 / (first.count - 1) + b ** 2 / (second.count - 1));
  return comparison({ difference: second.mean - first.mean, standardError: Math.sqrt(a + b), freedom }, options);
}

/**
 * Paired t comparison: the mean of second[i] − first[i] against its own scatter. A pair with a missing side is dropped under `skip`.
 *
 * @source  e-Handbook 7.3.1.1; a one-sample t on the differences
 */
export function pairedComparison(
  pairs: { readonly first: ArrayLike<number>; readonly second: ArrayLike<number>; readonly missing: MissingPolicy },
  options: ComparisonOptions = {},
): Comparison {
  const kept = usablePairs([pairs.first, pairs.second], pairs.missing);
  const differences = kept ? kept[1].map((value, i) => value - kept[0][i]) : [Number.NaN];
  const { count, mean, deviation } = sampleSummary(differences, 'propagate');
  return comparison({ difference: mean, standardError: deviation / Math.sqrt(count), freedom: count - 1 }, options);
}

function comparison(
  found: { readonly difference: number; readonly standardError: number; readonly freedom: number },
  { confidence = 0.95 }: ComparisonOptions,
): Comparison {
  const { difference, standardError, freedom } = found;
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`invalid confidence: ${confidence}`);
  const t = difference / standardError;
  const reach = studentQuantile((1 + confidence) / 2, freedom) * standardError;
  return {
    difference,
    standardError,
    t,
    degreesOfFreedom: freedom,
    probability: 2 * studentCdf(-Math.abs(t), freedom),
    low: difference - reach,
    high: difference + reach,
  };
}
