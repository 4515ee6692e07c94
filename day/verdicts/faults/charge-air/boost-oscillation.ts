import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { type BoostSeries, boostSeries } from '../../evidence/boost.ts';
import { type Tone, toneAt, tonesOf } from '../../evidence/tone.ts';
import { keptOf } from '../../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, mean, middle } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Slowest pressure that can be judged, and the rate that is enough [Hz]. @source our default */
const SLOWEST = 5;
const ENOUGH = 25;
/** Swings looked for [Hz], the cycles they must last with the deviations of their amplitude that are asked for then, and the readings they must be made of. @source 0.5–5 Hz: common practice, no source; rest: our default */
const BAND = { low: 0.5, high: 5.5 } as const;
const LASTING = [
  { cycles: 3, deviations: 7 },
  { cycles: 6, deviations: 6 },
] as const;
const LEAST = { seconds: 1.2, readings: 20 } as const;
/** Noise that asks for more than `over` times the limit in so many seconds hides the customary size. @source our default */
const HIDES = { deviations: 6, over: 1.4, seconds: 4 } as const;
/** A swing must be so much of all that moves beside a bent line [1]. @source our default */
const EXPLAINS = 0.4;
/** What the other pulls show is passed by this factor; swings of theirs count for that from this share of what is asked of this pull's; so many pulls. @source our default */
const BEYOND = 1.3;
const LIKELY = 0.5;
const USUAL = 5;
/** Swings this near the strongest one belong to it [1]. @source our default */
const SAME = 0.25;
/** Duty swings with the pressure from this many deviations on. @source our default */
const FOLLOWS = 4;

/** Manifold pressure swinging steadily at 0.5–5 Hz. @source common practice, no source */
export const boostOscillation: Detector = {
  fault: 'boost-oscillation',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['surge', 'boost-overshoot', 'ignition-breakup'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost) return { why: 'manifold pressure has no values in this pull', missing: ['manifold-pressure'] };
    if (boost.rate < SLOWEST)
      return { why: `manifold pressure is renewed ${boost.rate.toFixed(1)} times a second, too slowly for 0.5–5 Hz` };
    if (!Number.isFinite(Math.min(boost.reached, boost.risen))) return { why: 'boost was never reached in this pull' };
    const { tones, hidden } = swingsIn(scene, boost, limits);
    const limit = limits['boost-oscillation.amplitude'].value;
    const strongest = tones[0];
    const lasting = strongest ? tones.filter(({ hertz }) => Math.abs(hertz / strongest.hertz - 1) < SAME) : [];
    const size = largest(lasting.map(({ amplitude }) => amplitude));
    const [from, to] = [Math.min(...lasting.map((tone) => tone.from)), Math.max(...lasting.map((tone) => tone.to))];
    const half = strongest ? Math.round(2 * strongest.hertz * (to - from)) : 0;
    if (!strongest || half < limits['boost-oscillation.half-swings'].value) {
      if (hidden)
        return { why: 'manifold pressure is too noisy or too short here: swings of the customary size would not show' };
      return { features: [against(limits, 'boost-oscillation.amplitude', 0)] };
    }
    const follows = dutyFollows(scene, strongest);
    return {
      windows: [windowOf(scene, { from, to })],
      features: [
        against(limits, 'boost-oscillation.half-swings', half),
        against(limits, 'boost-oscillation.amplitude', size),
        informs('frequency', strongest.hertz, 'frequency'),
      ],
      strength: strengthOf(size / limit, 0.6) + (follows === undefined ? 0 : follows ? 0.1 : -0.1),
      stopClass: 1,
    };
  },
};

/** Lasting swings larger than the limit, than noise could make and than what the log of other pulls shows, the surest first. hidden: whether noise would hide the customary size. */
function swingsIn(
  scene: PullScene,
  boost: BoostSeries,
  limits: Limits,
): { readonly tones: readonly Tone[]; readonly hidden: boolean } {
  const limit = limits['boost-oscillation.amplitude'].value;
  const { tones, rate, seconds } = ownSwings(scene);
  const usual = middle(
    besideState(scene, ['boost-oscillation', 'spikes', 'surge'])
      .slice(0, USUAL)
      .map((other) => Math.max(0, largest(ownSwings(other).tones.map(({ amplitude }) => amplitude)))),
  );
  const least = Math.max(limit, Number.isFinite(usual) ? BEYOND * usual : 0);
  const noise = boost.noise * Math.min(1, Math.sqrt(rate / boost.rate));
  const hidden =
    seconds === 0 ||
    HIDES.deviations * noise * Math.sqrt(2 / (rate * seconds)) > HIDES.over * limit ||
    least > HIDES.over * limit;
  return { tones: tones.filter(({ amplitude, sure }) => sure && amplitude > least), hidden };
}

/** sure: more than noise could make; the others only say what the log shows anyhow. */
interface Swing extends Tone {
  readonly sure: boolean;
}

/** Swings of a pull that last, of any size, the surest first; seconds that noise is averaged over, 0 when there are too few readings. */
const ownSwings: (scene: PullScene) => {
  readonly tones: readonly Swing[];
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
  return { tones, rate, seconds: Math.min(HIDES.seconds, series.times[series.times.length - 1] - series.times[0]) };
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

/** Whether wastegate duty swings with the pressure; undefined where it is not logged fast enough. */
function dutyFollows(scene: PullScene, tone: Tone): boolean | undefined {
  const track: SceneTrack | undefined = sceneTrack(scene, 'wastegate-duty');
  if (!track || track.rate < 4 * tone.hertz) return undefined;
  const times = gridOf(scene, Math.min(ENOUGH, track.rate), tone);
  const swing = toneAt({ times, values: onTimes(track, times) }, tone);
  return swing && swing.amplitude > FOLLOWS * swing.deviation;
}
