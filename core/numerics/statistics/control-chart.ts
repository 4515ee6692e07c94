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
