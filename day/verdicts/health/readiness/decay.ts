import { levenbergMarquardt, median } from '../../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../../core/quantities/index.ts';

/** A stretch of cooling: times from its start [s], temperatures [K] as long as them. */
export interface CoolingStretch {
  readonly times: readonly number[];
  readonly temperatures: readonly number[];
}

export interface DecayInput {
  readonly stretches: readonly CoolingStretch[];
  /** Where the decay ends, as believed before [K]: the surrounding air, or what the engine holds by itself. */
  readonly floor: Measured;
  /** Standard deviation of one reading [K]. */
  readonly noise: number;
}

/** T = floor + (T₀ − floor)·exp(−t/τ), one τ and one floor for all stretches. covariance of (ln τ, floor). */
export interface Decay {
  readonly time: Measured;
  readonly floor: Measured;
  readonly covariance: readonly [number, number, number];
  readonly stretches: number;
}

/** A stretch must fall by this many deviations of a reading to be one of cooling. @source our default */
const SEEN = 5;
/** A time that is known worse than this share of itself is none [1]. @source our default */
const WORST = 0.5;

/**
 * Exponential decay of one channel from stretches of its own cooling; `why` when none is seen or they do not fix a time.
 *
 * @source Newton's law of cooling; least squares in ln τ and floor with the believed floor as one more observation
 */
export function coolingDecay({ stretches, floor, noise }: DecayInput): Decay | { readonly why: string } {
  const falling = stretches.filter(({ temperatures }) => {
    const [first, last] = [temperatures[0], temperatures[temperatures.length - 1]];
    return temperatures.length > 1 && first - last > SEEN * noise;
  });
  if (falling.length === 0)
    return { why: 'no decay seen: this channel does not fall by itself in any record or between them' };
  const first = falling[0];
  const rough = roughTime(first, floor.value);
  const fit = levenbergMarquardt({
    start: [Math.log(rough), floor.value],
    typical: [1, 10],
    residuals: ([lnTime, base]) => {
      const parts = falling.flatMap(({ times, temperatures }) => {
        // Readings of one stretch share their start, which carries the same noise as they do.
        const weight = 1 / (noise * Math.sqrt(2 * Math.max(1, temperatures.length / 8)));
        return temperatures.slice(1).map((temperature, i) => {
          const kept = Math.exp(-(times[i + 1] - times[0]) / Math.exp(lnTime));
          return weight * (temperature - base - (temperatures[0] - base) * kept);
        });
      });
      return Float64Array.from([...parts, (base - floor.value) / Math.max(floor.standardUncertainty, 0.01)]);
    },
    tolerance: 1e-9,
  });
  // Weighted by known deviations: the covariance is that of unit variance, or larger where the residuals are.
  const inflate = Math.max(1, fit.residualDeviation || 1) / (fit.residualDeviation || 1);
  const spread = Math.sqrt(fit.covariance[0]) * inflate;
  const time = Math.exp(fit.parameters[0]);
  if (!fit.converged || !(spread < WORST)) return { why: 'decay seen, but too little of it to fix its time' };
  const scaled = (value: number): number => value * inflate ** 2;
  return {
    time: measured(time, time * spread),
    floor: measured(fit.parameters[1], Math.sqrt(scaled(fit.covariance[3]))),
    covariance: [scaled(fit.covariance[0]), scaled(fit.covariance[1]), scaled(fit.covariance[3])],
    stretches: falling.length,
  };
}

function roughTime({ times, temperatures }: CoolingStretch, floor: number): number {
  const logs = temperatures.slice(1).map((temperature, i) => {
    const kept = (temperature - floor) / (temperatures[0] - floor);
    return kept > 0 && kept < 1 ? -(times[i + 1] - times[0]) / Math.log(kept) : Number.NaN;
  });
  const known = logs.filter((one) => Number.isFinite(one) && one > 0);
  return known.length > 0 ? median(known, 'skip') : 300;
}

/**
 * Time until a temperature has fallen to a limit [s].
 *
 *     t = τ·ln((T − floor)/(limit − floor))
 *
 * `why` where the floor lies within two uncertainties of the limit or above it: it may never get there.
 *
 * @source inverse of the decay; uncertainty to first order, JCGM 100:2008, equation 13
 */
export function waitUntil(decay: Decay, now: Measured, limit: number): Measured | { readonly why: string } {
  const { time, floor, covariance } = decay;
  if (now.value <= limit) return measured(0, 0);
  if (!(limit - floor.value > 2 * floor.standardUncertainty))
    return { why: 'it settles near the limit or above it: waiting may not do' };
  const [above, left] = [now.value - floor.value, limit - floor.value];
  const wait = time.value * Math.log(above / left);
  const byFloor = time.value * (1 / left - 1 / above);
  const variance =
    (time.value / above) ** 2 * now.standardUncertainty ** 2 +
    wait ** 2 * covariance[0] +
    byFloor ** 2 * covariance[2] +
    2 * wait * byFloor * covariance[1];
  return measured(wait, Math.sqrt(Math.max(0, variance)));
}
