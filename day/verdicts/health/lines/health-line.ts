import {
  correlatedEwmaChart,
  coverageFactor,
  cusumChart,
  type KnownDeviation,
  type PointwiseChart,
  sumStart,
} from '../../../../core/numerics/index.ts';
import type { Measured, QuantityKind } from '../../../../core/quantities/index.ts';
import type { Subject } from '../../detector.ts';
import type { HealthLimits } from '../thresholds.ts';

/** One pull or coast-down on a line. deviation: from the baseline's mean at equal state, with everything that is not known. */
export interface LinePoint {
  readonly entry: string;
  readonly clock: number;
  readonly block: number;
  readonly deviation: Measured;
  /** What else differs from the baseline and may be the cause: changes, settings. */
  readonly changed: readonly string[];
}

/** What a line is made from. covariance: of the points' deviations without the repeatability, points × points, row after row. */
export interface LineInput {
  readonly name: string;
  readonly subject: Subject;
  readonly kind: QuantityKind;
  /** Which way is worse. */
  readonly worse: 'up' | 'down' | 'either';
  readonly points: readonly Omit<LinePoint, 'deviation'>[];
  readonly deviations: ArrayLike<number>;
  readonly covariance: ArrayLike<number>;
  /** How many of the first points make the baseline. */
  readonly baseline: number;
  readonly repeat: KnownDeviation;
  /** Why the line compares like with like only in part; shown beside it. */
  readonly remarks: readonly string[];
}

/**
 * One health line with its two charts. verdict: `not enough` says so with `why`. left: first entry outside its band, by which chart, which
 * way, and since which entry the cumulative sum has been growing.
 */
export interface HealthLine extends Omit<LineInput, 'points' | 'deviations' | 'covariance'> {
  readonly points: readonly LinePoint[];
  readonly ewma: PointwiseChart | undefined;
  readonly sums: { readonly high: Float64Array; readonly low: Float64Array; readonly limit: number } | undefined;
  readonly verdict: 'in its band' | 'left its band' | 'not enough';
  readonly why?: string;
  readonly left?: {
    readonly entry: string;
    readonly direction: 'up' | 'down';
    readonly by: 'moving average' | 'cumulative sum';
    readonly since: string;
    readonly worse: boolean;
  };
}

/**
 * A line of deviations from its own first points, judged by a moving average and a cumulative sum. Few points widen the band: the deviation of
 * a repeat is known with few degrees of freedom, so Student's t stands for the three of a normal distribution; and what the points share
 * (slopes that are only believed) is never averaged away.
 *
 * @source  NIST/SEMATECH e-Handbook 6.3.2.3 and 6.3.2.4; t limits for a deviation of few degrees of freedom: e-Handbook 7.1.4, our combination
 */
export function healthLine(input: LineInput, limits: HealthLimits): HealthLine {
  const count = input.points.length;
  const total = withRepeats(input);
  const { deviations: values, points: places, covariance: _, ...rest } = input;
  const points = places.map((place, i) => ({
    ...place,
    deviation: { value: values[i], standardUncertainty: Math.sqrt(Math.max(0, total[i * count + i])) },
  }));
  const base = { ...rest, points, ewma: undefined, sums: undefined };
  const least = limits['line.least-baseline'].value;
  if (input.baseline < least || count <= input.baseline) {
    return { ...base, verdict: 'not enough', why: notEnough(count, input.baseline, least) };
  }
  const width = coverageFactor(Math.max(1, input.repeat.degreesOfFreedom), limits['line.confidence'].value);
  const share = limits['line.share'].value;
  const ewma = correlatedEwmaChart({ samples: values, target: 0, covariance: total, share, width });
  const sums = sumsOf(input, limits, width / 3);
  const left = leftAt(input, ewma, sums);
  return { ...base, ewma, sums, verdict: left ? 'left its band' : 'in its band', ...(left ? { left } : {}) };
}

function notEnough(count: number, baseline: number, least: number): string {
  return baseline < least
    ? `not enough pulls: ${baseline} to count from, ${least} needed`
    : `not enough pulls: ${count}, all of them counted from`;
}

/** Covariance with the repeatability of each point and of the baseline's mean. */
function withRepeats({ points, covariance, baseline, repeat }: LineInput): Float64Array {
  const count = points.length;
  const variance = repeat.value ** 2;
  return Float64Array.from({ length: count * count }, (_, at) => {
    const [i, j] = [Math.floor(at / count), at % count];
    const counted = (i < baseline ? 1 : 0) + (j < baseline ? 1 : 0);
    return covariance[at] + variance * ((i === j ? 1 : 0) + (1 - counted) / Math.max(1, baseline));
  });
}

/** Cumulative sums of what cannot be explained by two uncertainties of the slopes and one of the baseline's mean, both shared by all points. */
function sumsOf(
  { deviations: values, covariance, repeat, points, baseline }: LineInput,
  limits: HealthLimits,
  widened: number,
): NonNullable<HealthLine['sums']> {
  const samples = Float64Array.from(points, (_, i) => {
    const slopes = 2 * Math.sqrt(Math.max(0, covariance[i * points.length + i]));
    const shared = Math.hypot(slopes, repeat.value / Math.sqrt(baseline));
    return Math.sign(values[i]) * Math.max(0, Math.abs(values[i]) - shared);
  });
  const deviation = repeat.value * widened;
  const limit = limits['line.sum-limit'].value * deviation;
  const slack = limits['line.sum-slack'].value * deviation;
  const { high, low } = cusumChart({ samples, target: 0, slack, limit, missing: 'refuse' });
  return { high, low, limit };
}

function leftAt(
  { points, worse }: LineInput,
  ewma: PointwiseChart,
  sums: NonNullable<HealthLine['sums']>,
): HealthLine['left'] {
  const averaged = ewma.outside[0] ?? Number.POSITIVE_INFINITY;
  const summed = points.findIndex((_, i) => sums.high[i] > sums.limit || sums.low[i] > sums.limit);
  const bySum = summed >= 0 && summed < averaged;
  const at = bySum ? summed : averaged;
  if (!Number.isFinite(at)) return undefined;
  const up = bySum ? sums.high[at] > sums.limit : ewma.statistic[at] > ewma.high[at];
  const direction = up ? 'up' : 'down';
  const since = sumStart(up ? sums.high : sums.low, at) ?? at;
  return {
    ...{ entry: points[at].entry, since: points[since].entry, direction },
    by: bySum ? 'cumulative sum' : 'moving average',
    worse: worse === 'either' || worse === direction,
  };
}
