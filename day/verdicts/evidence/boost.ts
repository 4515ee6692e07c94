import { keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../scene/scene.ts';
import { finite, middle, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import { withoutPulsation } from './pulsation.ts';

/** Manifold pressure over the pull without the pulsation of the firings, on at most 100 Hz, its target where logged, and when it had first come within 3 % of its level [s]. */
export interface BoostSeries {
  readonly times: Float64Array;
  readonly pressure: Float64Array;
  readonly target: Float64Array | undefined;
  readonly reached: number;
  /** When it first came near its own upper level, whatever was asked for [s]. */
  readonly risen: number;
  readonly rate: number;
  /** Standard deviation of white noise on the grid [Pa]. */
  readonly noise: number;
}

/** Share of the target, or of the pull's upper pressure, from which boost counts as there [1]. @source our default */
const THERE = 0.97;

/** Lift-off, where the target already falls, stays out [s]. @source our default */
const BEFORE_END = 0.15;

/** Manifold pressure of the pull; undefined when none is logged. */
export const boostSeries: (scene: PullScene) => BoostSeries | undefined = keptOf(measuredBoost);

function measuredBoost(scene: PullScene): BoostSeries | undefined {
  const logged = sceneTrack(scene, 'manifold-pressure') ?? sceneTrack(scene, 'manifold-gauge-pressure');
  if (!logged) return undefined;
  const track = withoutPulsation(scene, logged);
  const rate = Math.min(100, track.rate);
  const times = gridOf(scene, rate, { from: scene.from, to: scene.to - BEFORE_END });
  const pressure = onTimes(track, times);
  const noise = track.noise * Math.min(1, Math.sqrt(rate / track.rate));
  const asked = track.meaning === 'manifold-pressure' ? sceneTrack(scene, 'manifold-target') : undefined;
  const target = asked && onTimes(asked, times);
  const smoothed = smooth({ times, values: pressure }, Math.min(5, rate / 5));
  const sorted = finite(smoothed).sort((a, b) => a - b);
  const usual = sorted[Math.floor(0.6 * sorted.length)] ?? Number.NaN;
  const first = smoothed.findIndex(
    (value, i) => value >= THERE * (target && Number.isFinite(target[i]) ? target[i] : usual),
  );
  const up = smoothed.findIndex((value) => value >= THERE * usual);
  const risen = up < 0 ? Number.POSITIVE_INFINITY : times[up];
  return {
    risen,
    times,
    pressure,
    target,
    reached: first < 0 ? Number.POSITIVE_INFINITY : times[first],
    rate,
    noise,
  };
}

/** While boost builds up the gate is shut: duty differs by this from what holds the pressure [1]. @source our default */
const TELLS = 0.03;
/** Below this share of its upper level the pressure is still building up, after the throttle has opened [s]. @source our default */
const BUILDING = 0.85;
const OPENED = 0.2;

/** Which way wastegate duty closes the gate: 1 upwards, −1 downwards, as the controller drives it while boost builds up, here or else in other pulls; 0 when that does not show. */
export const closingDuty: (scene: PullScene) => -1 | 0 | 1 = keptOf((scene) => {
  const own = closingIn(scene);
  if (own !== 0) return own;
  return scene.references.map(closingIn).find((closing) => closing !== 0) ?? 0;
});

const closingIn: (scene: PullScene) => -1 | 0 | 1 = keptOf((scene) => {
  const [boost, track] = [boostSeries(scene), sceneTrack(scene, 'wastegate-duty')];
  if (!boost || !track) return 0;
  const duty = onTimes(track, boost.times);
  const level = middle(boost.pressure);
  const during = (holds: (i: number) => boolean): number => middle(duty.filter((_, i) => holds(i)));
  const building = during((i) => boost.times[i] > scene.from + OPENED && boost.pressure[i] < BUILDING * level);
  const holding = during((i) => boost.times[i] > boost.risen + 1);
  const apart = building - holding;
  return apart > TELLS ? 1 : apart < -TELLS ? -1 : 0;
});
