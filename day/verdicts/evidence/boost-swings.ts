import { keptOf } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import { finite, mean, smooth } from '../scene/series.ts';
import { type BoostSeries, boostSeries } from './boost.ts';
import { type Tone, tonesOf } from './tone.ts';

/** The rate that is enough [Hz]. @source our default */
const ENOUGH = 25;
/** Swings looked for [Hz], the cycles they must last with the deviations of their amplitude that are asked for then, and the readings they must be made of. @source 0.5–5 Hz: common practice, no source; rest: our default */
const BAND = { low: 0.5, high: 5.5 } as const;
const LASTING = [
  { cycles: 3, deviations: 7 },
  { cycles: 6, deviations: 6 },
] as const;
const LEAST = { seconds: 1.2, readings: 20 } as const;
/** Noise is averaged over so many seconds at most. @source our default */
const AVERAGED = 4;
/** A swing must be so much of all that moves beside a bent line [1]. @source our default */
const EXPLAINS = 0.4;
/** Swings of other pulls count from this share of what is asked of this pull's. @source our default */
const LIKELY = 0.5;
/** A swing of at least so many cycles is looked through: over each of its periods the mean counts. @source our default */
const THROUGH = 4;
/** Swings this near the strongest one belong to it [1]. @source our default */
export const SAME_SWING = 0.25;

/** sure: more than noise could make; the others only say what the log shows anyhow. */
export interface BoostSwing extends Tone {
  readonly sure: boolean;
}

/** Swings of a pull that last, of any size, the surest first; seconds that noise is averaged over, 0 when there are too few readings. */
export const boostSwings: (scene: PullScene) => {
  readonly tones: readonly BoostSwing[];
  readonly rate: number;
  readonly seconds: number;
} = keptOf((scene) => {
  const boost = boostSeries(scene);
  const series = boost && offTarget(boost);
  if (!series || series.times.length < LEAST.readings) return { tones: [], rate: Number.NaN, seconds: 0 };
  const rate = 1 / (series.times[1] - series.times[0]);
  const shortest = Math.max(LEAST.seconds, LEAST.readings / rate);
  const tones = LASTING.flatMap(({ cycles, deviations }) =>
    tonesOf(series, { ...BAND, cycles, shortest })
      .filter(({ amplitude, deviation, share }) => amplitude > LIKELY * deviations * deviation && share > EXPLAINS)
      .map((tone) => ({ ...tone, sure: tone.amplitude > deviations * tone.deviation })),
  ).sort((a, b) => b.amplitude / b.deviation - a.amplitude / a.deviation);
  return { tones, rate, seconds: Math.min(AVERAGED, series.times[series.times.length - 1] - series.times[0]) };
});

/** Pressure less target since boost was first there, on as few times as the band needs. */
function offTarget({ times, pressure, target, reached, risen, rate }: BoostSeries): {
  readonly times: Float64Array;
  readonly values: Float64Array;
} {
  const from = Number.isFinite(reached) ? reached : risen;
  const every = Math.max(1, Math.round(rate / ENOUGH));
  const off = pressure.map((value, i) => value - (target?.[i] ?? 0));
  const first = times.findIndex((time) => time >= from);
  const count = first < 0 ? 0 : Math.floor((times.length - first) / every);
  const start = Math.max(0, first);
  return {
    times: Float64Array.from({ length: count }, (_, k) => times[start + k * every + Math.floor((every - 1) / 2)]),
    values: Float64Array.from({ length: count }, (_, k) =>
      mean(off.subarray(start + k * every, start + (k + 1) * every)),
    ),
  };
}

/** The strongest swing of several cycles with all of its stretches made into one; undefined when none is sure. */
export function lastingSwing(scene: PullScene): Tone | undefined {
  const sure = boostSwings(scene).tones.filter((tone) => tone.sure);
  const [strongest] = sure;
  if (!strongest) return undefined;
  const same = sure.filter(({ hertz }) => Math.abs(hertz / strongest.hertz - 1) < SAME_SWING);
  const [from, to] = [Math.min(...same.map((one) => one.from)), Math.max(...same.map((one) => one.to))];
  return strongest.hertz * (to - from) < THROUGH ? undefined : { ...strongest, from, to };
}

/**
 * Pressure less target [Pa], smoothed to a −3 dB frequency [Hz] as far as the rate allows; through a lasting swing of several cycles the mean over each period, so that its crests
 * are neither an overshoot nor a droop.
 */
export function boostExcess(scene: PullScene, boost: BoostSeries, bandwidth: number): Float64Array {
  const { times, pressure, target, rate } = boost;
  const off = pressure.map((value, i) => value - (target?.[i] ?? Number.NaN));
  const smoothed = smooth({ times, values: off }, Math.min(bandwidth, rate / 5));
  const swing = lastingSwing(scene);
  if (!swing) return smoothed;
  const half = Math.max(1, Math.round(rate / swing.hertz / 2));
  const near = 1 / swing.hertz;
  return smoothed.map((value, i) => {
    if (times[i] < swing.from - near || times[i] > swing.to + near) return value;
    const part = finite(off.subarray(Math.max(0, i - half), i + half + 1));
    return part.length > half ? mean(part) : value;
  });
}
