import { gridOf, type PullScene, speedAt, speedsAt } from '../scene/scene.ts';
import { middle, smallestStep } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';

/**
 * How much later a channel tells than it did in other pulls.
 * lag: time constant of a first-order lag [s]; gain: how many times smaller the squares of the rest are with it than without; explained: share of the
 * channel's movement that it explains then [1]; unlagged: the share that is explained without [1]; scale: how much the channel moves against then [1]; calmer: its noise over that of the others [1],
 * NaN where the steps it is written in hide it.
 */
export interface Lagged {
  readonly lag: number;
  readonly gain: number;
  readonly explained: number;
  readonly unlagged: number;
  readonly scale: number;
  readonly calmer: number;
}

/** Looked at from before tip-in to after lift-off [s], and how finely [Hz]. @source our default */
const BEFORE = 1;
const AFTER = 3;
const RATE = 25;
/** Full load is found so much too late at the most [s]. @source our default */
const LATE = 5;
/** Time constants tried first [s], and the factor between those tried around the best of them. @source our default */
const TRIED = [0.2, 0.6, 1.8] as const;
const FINER = [0.44, 0.58, 0.76, 1.32, 1.73] as const;
/** A coarse lag that does not make the rest smaller by this is no lag. @source our default */
const WORTH = 1.5;
/** Fewest values to fit to. @source our default */
const FEWEST = 24;
/** Noise must be so many of the steps a value is written in, or it is hidden. @source our default */
const STEPS = 1.5;

/** A channel of another pull that this one is held against. */
export interface Earlier {
  readonly scene: PullScene;
  readonly track: SceneTrack;
}

/**
 * A channel fitted by what it was in other pulls, moved to the same places of this one, through a first-order lag, and with any level and scale. Undefined
 * where there are too few values.
 *
 * @source least squares over the time constant; common practice, no source
 */
export function laggedBehind(scene: PullScene, track: SceneTrack, others: readonly Earlier[]): Lagged | undefined {
  if (others.length === 0) return undefined;
  const rate = Math.min(RATE, track.rate);
  const places = others.map((other) => placesIn(scene, other.scene));
  // A throttle that lags has full load begin later: the earlier pulls tell when it did.
  const began = Math.min(scene.from, ...places.map(({ began }) => began).filter(Number.isFinite));
  const times = gridOf(scene, rate, { from: Math.max(began, scene.from - LATE) - BEFORE, to: scene.to + AFTER });
  const here = onTimes(track, times);
  const there = others.map((other, k) => valuesAt(other, times.map(places[k].at), rate));
  const usual = here.map((_, k) => middle(there.map((each) => each[k])));
  const fitAt = (lag: number): Fit => fitted(here, laggedBy(usual, rate * lag));
  const quick = fitAt(0);
  if (!(quick.count >= FEWEST) || !(quick.moves > 0)) return undefined;
  let best = { lag: 0, ...quick };
  const better = (lag: number): void => {
    const found = fitAt(lag);
    if (found.rest < best.rest) best = { lag, ...found };
  };
  for (const lag of TRIED) better(lag);
  const coarse = best.lag;
  if (quick.rest > WORTH * best.rest) for (const factor of FINER) better(factor * coarse);
  return {
    lag: best.lag,
    gain: quick.rest / best.rest,
    explained: 1 - best.rest / best.moves,
    unlagged: 1 - quick.rest / quick.moves,
    scale: best.scale,
    calmer: calmerThan(track, others),
  };
}

/** Values of another pull's channel at moments that need not be evenly spaced, on a straight line between those of an even grid; NaN where there are none. */
function valuesAt({ scene, track }: Earlier, places: Float64Array, rate: number): Float64Array {
  const start = scene.from - BEFORE - AFTER;
  const even = onTimes(track, gridOf(scene, rate, { from: start, to: scene.to + 2 * AFTER }));
  return places.map((place) => {
    const at = (place - start) * rate;
    const k = Math.floor(at);
    return at === k ? even[k] : even[k] + (at - k) * (even[k + 1] - even[k]);
  });
}

/** Noise of a channel over the middle of what it was; NaN where it was hidden by the steps of its values. */
function calmerThan(track: SceneTrack, others: readonly Earlier[]): number {
  const usual = middle(others.map((other) => other.track.noise));
  const step = Math.max(...others.map((other) => smallestStep(other.track.raw)));
  return usual > STEPS * step ? track.noise / usual : Number.NaN;
}

interface Fit {
  readonly rest: number;
  readonly moves: number;
  readonly scale: number;
  readonly count: number;
}

/** Straight line through pairs: what is left, what there was, and its slope. */
function fitted(values: Float64Array, by: Float64Array): Fit {
  let [count, sx, sy] = [0, 0, 0];
  for (let k = 0; k < values.length; k++) {
    if (Number.isNaN(values[k] + by[k])) continue;
    count += 1;
    sx += by[k];
    sy += values[k];
  }
  const [mx, my] = [sx / count, sy / count];
  let [xx, xy, yy] = [0, 0, 0];
  for (let k = 0; k < values.length; k++) {
    const [x, y] = [by[k] - mx, values[k] - my];
    if (Number.isNaN(x + y)) continue;
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  return { rest: yy - (xx > 0 ? (xy * xy) / xx : 0), moves: yy, scale: xy / xx, count };
}

/** Values through a first-order lag of so many steps; in a gap it goes on towards what there was before it. */
function laggedBy(values: Float64Array, steps: number): Float64Array {
  const follows = steps > 0 ? 1 - Math.exp(-1 / steps) : 1;
  let [state, last] = [Number.NaN, Number.NaN];
  return values.map((value) => {
    if (!Number.isNaN(value)) last = value;
    state = Number.isNaN(state) ? last : state + (last - state) * follows;
    return Number.isNaN(value) ? value : state;
  });
}

/** Lowest speed that two pulls are laid on one another at, as a share of what both run through. @source our default */
const LOW = 0.15;
/** One pull ran on to a higher speed than the other from this share on: they are laid on one another at the lower one. @source our default */
const RAN_ON = 0.02;

/** Places of one pull in another one. at: time there of a time here, NaN where only one of them was still at full load [s]; began: when full load there began, as a time here [s]. */
interface Places {
  readonly at: (time: number) => number;
  readonly began: number;
}

/**
 * Where in another pull the engine was at the same place: by the highest speed that both reached, which is lift-off unless one ran on, and by the
 * moment of one speed on the way up, and beyond these moved. Where full load begins and ends is not asked: a channel that lags may have told.
 */
function placesIn(scene: PullScene, other: PullScene): Places {
  const [lift, otherLift] = [liftOf(scene), liftOf(other)];
  const [[low, high], [otherLow, otherHigh]] = [
    [speedAt(scene, scene.from + END), speedAt(scene, lift)],
    [speedAt(other, other.from + END), speedAt(other, otherLift)],
  ];
  const start = Math.max(low, otherLow);
  const top = Math.min(high, otherHigh);
  const wanted = start + LOW * (top - start);
  const [here, there] = [lastBelow(scene, wanted), lastBelow(other, wanted)];
  const end = high > (1 + RAN_ON) * top ? lastBelow(scene, top) : lift;
  const otherEnd = otherHigh > (1 + RAN_ON) * top ? lastBelow(other, top) : otherLift;
  const stretch = (otherEnd - there) / (end - here);
  const began = here - there + other.from;
  if (!(stretch > 0) || !Number.isFinite(stretch)) return { at: (time) => time - lift + otherLift, began };
  return {
    began,
    at: (time) => {
      if (time > lift) return time - lift + otherLift;
      if (time > end) return Number.NaN;
      return time < here ? time - here + there : there + (time - here) * stretch;
    },
  };
}

/** Near the ends of full load the speed is not looked at [s]. @source our default */
const END = 0.1;
/** Lift-off is looked for from so long before the end of full load to so long after it [s]. @source our default */
const LIFT = { before: 0.3, after: 1 } as const;

/** Moment of the highest speed about the end of full load [s]; that end where the speed does not fall after it. */
function liftOf(scene: PullScene): number {
  const times = gridOf(scene, RATE, { from: scene.to - LIFT.before, to: scene.to + LIFT.after });
  const speeds = speedsAt(scene, times);
  let best = -1;
  speeds.forEach((speed, k) => {
    if (best < 0 ? Number.isFinite(speed) : speed > speeds[best]) best = k;
  });
  return best <= 0 || best >= speeds.length - 2 ? scene.to : times[best];
}

/** Last moment before lift-off at which the engine was not yet faster than this [s]; full load may begin later. */
function lastBelow(scene: PullScene, speed: number): number {
  const times = gridOf(scene, RATE);
  const speeds = speedsAt(scene, times);
  for (let k = speeds.length - 1; k > 0; k--) {
    if (speeds[k - 1] <= speed && speeds[k] > speed)
      return times[k - 1] + ((speed - speeds[k - 1]) / (speeds[k] - speeds[k - 1])) * (times[k] - times[k - 1]);
  }
  return Number.NaN;
}
