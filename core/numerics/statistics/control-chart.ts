import { type MissingPolicy, usableSamples } from './missing.ts';

/** statistic: one entry per usable sample. outside: indices of the points beyond a limit. */
export interface ControlChart {
  readonly statistic: Float64Array;
  readonly centre: number;
  readonly low: number;
  readonly high: number;
  readonly outside: readonly number[];
}

export interface EwmaInput {
  readonly samples: ArrayLike<number>;
  readonly target: number;
  /** Standard deviation of a single sample [unit], from earlier data. */
  readonly deviation: number;
  /** Share of the newest sample, 0 < λ ≤ 1; default 0.3. */
  readonly share?: number;
  /** Distance of the limits in standard deviations of the statistic; default 3. */
  readonly width?: number;
  readonly missing: MissingPolicy;
}

/**
 * Exponentially weighted moving average chart with its asymptotic limits.
 *
 *     z[i] = λ·x[i] + (1 − λ)·z[i − 1],  z[−1] = target;   limits = target ± width·s·√(λ/(2 − λ))
 *
 * @source  NIST/SEMATECH e-Handbook 6.3.2.4
 */
export function ewmaChart(input: EwmaInput): ControlChart {
  const { target, deviation, share = 0.3, width = 3 } = input;
  if (!(share > 0 && share <= 1)) throw new RangeError(`invalid share: ${share}, expected 0–1`);
  let z = target;
  const statistic = chartSamples(input.samples, input.missing).map((x) => {
    z = share * x + (1 - share) * z;
    return z;
  });
  const reach = width * deviation * Math.sqrt(share / (2 - share));
  return chart(statistic, { centre: target, low: target - reach, high: target + reach });
}

/** Mean moving range of two neighbours divided by the standard deviation, normal samples. @source 2/√π; e-Handbook 6.3.2.2 prints 1.128 */
export const MOVING_RANGE_FACTOR = 1.128;

/**
 * Chart of single values: limits at mean ± 3·(mean moving range)/1.128.
 *
 * Fewer than two usable samples: limits NaN.
 *
 * @source  Shewhart; NIST/SEMATECH e-Handbook 6.3.2.2
 */
export function individualsChart(samples: ArrayLike<number>, missing: MissingPolicy): ControlChart {
  const statistic = chartSamples(samples, missing);
  const centre = statistic.reduce((sum, x) => sum + x, 0) / statistic.length;
  let ranges = 0;
  for (let i = 1; i < statistic.length; i++) ranges += Math.abs(statistic[i] - statistic[i - 1]);
  const reach = (3 * ranges) / (statistic.length - 1) / MOVING_RANGE_FACTOR;
  return chart(statistic, { centre, low: centre - reach, high: centre + reach });
}

export interface CusumInput {
  readonly samples: ArrayLike<number>;
  readonly target: number;
  /** Slack k [unit]: half of the shift that matters. */
  readonly slack: number;
  /** Decision limit h [unit]. */
  readonly limit: number;
  readonly missing: MissingPolicy;
}

/** Sums per usable sample, both ≥ 0; outside: indices where one exceeds the limit. */
export interface CusumChart {
  readonly high: Float64Array;
  readonly low: Float64Array;
  readonly outside: readonly number[];
}

/**
 * Tabular cumulative sums.
 *
 *     high[i] = max(0, high[i − 1] + x[i] − target − k),   low[i] = max(0, low[i − 1] + target − k − x[i])
 *
 * @source  NIST/SEMATECH e-Handbook 6.3.2.3
 */
export function cusumChart({ samples, target, slack, limit, missing }: CusumInput): CusumChart {
  const kept = chartSamples(samples, missing);
  const high = new Float64Array(kept.length);
  const low = new Float64Array(kept.length);
  const outside: number[] = [];
  for (let i = 0; i < kept.length; i++) {
    high[i] = Math.max(0, (i > 0 ? high[i - 1] : 0) + kept[i] - target - slack);
    low[i] = Math.max(0, (i > 0 ? low[i - 1] : 0) + target - slack - kept[i]);
    if (high[i] > limit || low[i] > limit) outside.push(i);
  }
  return { high, low, outside };
}

/** Input of a chart whose samples share parts of their errors. */
export interface CorrelatedEwmaInput {
  readonly samples: ArrayLike<number>;
  readonly target: number;
  /** Covariance of the samples' distances from the target: samples × samples, row after row. */
  readonly covariance: ArrayLike<number>;
  /** As in {@link EwmaInput}. */
  readonly share?: number;
  readonly width?: number;
}

/** All as long as the samples; limits belong to each point. deviation: of the statistic. */
export interface PointwiseChart {
  readonly statistic: Float64Array;
  readonly deviation: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly outside: readonly number[];
}

/**
 * Exponentially weighted moving average with limits for each point, for samples of unequal or shared uncertainty.
 *
 *     z[i] = Σ w[i][j]·x[j] + (1 − λ)^(i+1)·target,  w[i][j] = λ·(1 − λ)^(i−j);   limits = target ± width·√(wᵢᵀ·C·wᵢ)
 *
 * With C = s²·1 the limits are target ± width·s·√(λ/(2 − λ)·[1 − (1 − λ)^(2i)]), i counted from 1, and approach those of
 * {@link ewmaChart}. No missing samples: a NaN throws.
 *
 * @source  NIST/SEMATECH e-Handbook 6.3.2.4 (statistic, asymptote); variance of a weighted sum: JCGM 100:2008, equation 16
 */
export function correlatedEwmaChart(input: CorrelatedEwmaInput): PointwiseChart {
  const { samples, target, covariance, share = 0.3, width = 3 } = input;
  const count = samples.length;
  if (!(share > 0 && share <= 1)) throw new RangeError(`invalid share: ${share}, expected 0–1`);
  if (covariance.length !== count * count) throw new RangeError(`expected a covariance of ${count} × ${count}`);
  const statistic = new Float64Array(count);
  const deviation = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    if (Number.isNaN(samples[i])) throw new RangeError(`missing sample at index ${i}`);
    statistic[i] = share * samples[i] + (1 - share) * (i > 0 ? statistic[i - 1] : target);
    for (let j = 0; j < i; j++) weights[j] *= 1 - share;
    weights[i] = share;
    let variance = 0;
    for (let j = 0; j <= i; j++) {
      for (let k = 0; k <= i; k++) variance += weights[j] * weights[k] * covariance[j * count + k];
    }
    deviation[i] = Math.sqrt(Math.max(0, variance));
  }
  const low = deviation.map((one) => target - width * one);
  const high = deviation.map((one) => target + width * one);
  const outside = [...statistic.keys()].filter((i) => statistic[i] < low[i] || statistic[i] > high[i]);
  return { statistic, deviation, low, high, outside };
}

/**
 * First sample of the run that led to a cumulative sum at `index`: the one after the sum last stood at zero. Undefined while the sum is zero.
 *
 * @source  Montgomery, Introduction to Statistical Quality Control, tabular cusum: estimate of the time of the shift
 */
export function sumStart(sums: ArrayLike<number>, index: number): number | undefined {
  if (!(sums[index] > 0)) return undefined;
  let start = index;
  while (start > 0 && sums[start - 1] > 0) start -= 1;
  return start;
}

/** Under `propagate` a missing sample leaves nothing to chart but NaN. */
function chartSamples(samples: ArrayLike<number>, missing: MissingPolicy): Float64Array {
  return usableSamples(samples, missing) ?? new Float64Array(samples.length).fill(Number.NaN);
}

function chart(
  statistic: Float64Array,
  lines: { readonly centre: number; readonly low: number; readonly high: number },
): ControlChart {
  const outside: number[] = [];
  statistic.forEach((value, i) => {
    if (value < lines.low || value > lines.high) outside.push(i);
  });
  return { statistic, ...lines, outside };
}
