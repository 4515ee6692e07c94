import { median, quantile } from '../../../core/numerics/index.ts';

/** Changes needed before their spacing says how often a value is renewed. @source our default */
const CHANGES = 8;
/** The shortest ordinary spacing: this quantile of the times between changes; longer ones may be a value that stayed the same. @source our default */
const SHORT = 0.1;
const ALIKE = 1.6;
/** A log is staggered when most channels are renewed no more often than every so many rows, in turn. @source our default */
const STAGGERED_ROWS = 3;
const STAGGERED_SHARE = 0.6;

export interface RefreshInput {
  readonly times: Float64Array;
  /** Median step between rows [s]. */
  readonly step: number;
  /** Samples of each channel, as long as `times`. */
  readonly channels: readonly Float64Array[];
}

/**
 * How often each channel's value is really renewed [Hz], from the times between changes; never more than the row rate.
 *
 * A value that stays the same for long cannot show its rate: alone it gets the row rate when it hardly ever changes. In a staggered
 * log, where each row renews one channel, it gets the rate of the others.
 */
export function refreshRates({ times, step, channels }: RefreshInput): readonly number[] {
  const intervals = channels.map((samples) => interval(times, samples));
  const known = intervals.filter((value) => value !== undefined);
  const slow = known.filter((value) => value > (STAGGERED_ROWS - 0.5) * step);
  const staggered =
    known.length >= STAGGERED_ROWS && slow.length >= STAGGERED_SHARE * known.length && jumpAlone(channels);
  const common = staggered ? median(slow, 'skip') : undefined;
  return intervals.map((value) => {
    const own = value ?? common ?? step;
    const used = common !== undefined && own > ALIKE * common ? common : own;
    return 1 / Math.max(step, used);
  });
}

/** Typical shortest time between two changes [s], or undefined when there are too few. */
function interval(times: Float64Array, samples: Float64Array): number | undefined {
  const spacings: number[] = [];
  let last = -1;
  let before = Number.NaN;
  for (let i = 0; i < samples.length; i++) {
    if (Number.isNaN(samples[i])) continue;
    if (!Number.isNaN(before) && samples[i] !== before) {
      if (last >= 0 && times[i] > times[last]) spacings.push(times[i] - times[last]);
      last = i;
    }
    before = samples[i];
  }
  if (spacings.length < CHANGES) return undefined;
  const short = quantile({ samples: spacings, probability: SHORT, missing: 'skip' });
  return median(
    spacings.filter((value) => value <= ALIKE * short + 1e-9),
    'skip',
  );
}

/** True when rows in which anything changes mostly change one channel only. */
function jumpAlone(channels: readonly Float64Array[]): boolean {
  const rows = channels[0]?.length ?? 0;
  let [changing, alone] = [0, 0];
  for (let i = 1; i < rows; i++) {
    let changes = 0;
    for (const samples of channels) if (samples[i] !== samples[i - 1] && !Number.isNaN(samples[i])) changes += 1;
    if (changes > 0) changing += 1;
    if (changes === 1) alone += 1;
  }
  return changing > 0 && alone > 0.7 * changing;
}
