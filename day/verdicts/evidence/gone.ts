import { REASONS } from '../../channels/index.ts';
import { type FaultWindow, windowsWhere } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import type { PullScene } from '../scene/scene.ts';
import { finite, middle } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { syncEvidence } from './sync.ts';
import { livesByItself } from './unrest.ts';

/** What the reading of a log took for a dropout must be off the channel's level by this share. @source our default: 0 °C for 90 °C in kelvin is a quarter */
const FALLEN = 0.12;
/** An unknown channel that falls below this share of its level, but not to zero, may fall to zero by itself. @source our default */
const STAYS_UP = 0.3;
/** Near tip-in and lift-off a channel may rightly be near zero [s]. @source our default */
const EDGE = 0.3;
/** The steps down and back are so many times the largest other step in the neighbourhood, as many renewals wide, and the usual step. @source our default */
const LONELY = 2.5;
const NEIGHBOURS = 8;
const USUAL = 8;
/** Channels that cannot be near zero at full load. @source common practice, no source */
const NEVER_ZERO = new Set([
  ...['engine-speed', 'roll-speed', 'roll-rotation', 'wheel-speed', 'vehicle-speed', 'turbo-speed'],
  ...['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'compressor-inlet-pressure', 'lambda', 'air-flow'],
  ...['fuel-flow', 'fuel-pressure', 'fuel-pressure-difference', 'oil-pressure', 'battery-voltage'],
  ...['brake-force', 'tractive-force', 'knock-level'],
]);
/** Channels that a lost trigger takes along. */
const BY_TRIGGER = new Set(['engine-speed', 'brake-force', 'tractive-force', 'fuel-flow', 'air-flow']);
/** Around a lost trigger nothing of that kind is a fault of the channel [s]. @source our default */
const BESIDE = 0.3;

/**
 * Where a channel is gone and comes back – zero, nothing, or the bottom of its scale – with steps that stand out of everything it does by itself. One that
 * comes and goes may be gone for any time; one that is gone once only, for the longest that a dropout lasts.
 *
 * @source runs of zero or of nothing, return to the old level: common practice, no source; limits: our default
 */
export function goneIn(scene: PullScene, limits: Limits, track: SceneTrack): readonly FaultWindow[] {
  const windows = allGone(scene, track)(limits['dropout.left'].value);
  const longest = limits['dropout.longest'].value;
  return windows.some(({ from, to }) => to - from < longest) ? windows : [];
}

const allGone = kept((scene: PullScene, track: SceneTrack) => {
  const known = new Map<number, readonly FaultWindow[]>();
  return (left: number): readonly FaultWindow[] => {
    const windows = known.get(left) ?? foundGone(scene, track, left);
    known.set(left, windows);
    return windows;
  };
});

function foundGone(scene: PullScene, track: SceneTrack, left: number): readonly FaultWindow[] {
  const { times, raw, mask } = track;
  const full = (i: number): boolean => times[i] > scene.from + EDGE && times[i] < scene.to - EDGE;
  const level = middle(raw.filter((value, i) => full(i) && mask[i] !== REASONS.dropout && value !== 0));
  const zero = left * Math.abs(level);
  const scaled = level > 0 && (NEVER_ZERO.has(track.meaning) || staysUp(scene, track, { level, zero }));
  const away = (i: number): boolean => Math.abs(raw[i] - level) > FALLEN * Math.abs(level);
  const out = (i: number): boolean =>
    Number.isNaN(raw[i]) || (mask[i] === REASONS.dropout && away(i)) || (scaled && Math.abs(raw[i]) < zero);
  return windowsWhere(scene, { times, holds: (i) => full(i) && out(i), shortest: 0 }).filter(
    ({ from, to }) =>
      from > scene.from + EDGE &&
      to < scene.to - EDGE &&
      restsAt(track, { from, to }, zero) &&
      (!scaled || comesBack(track, { from, to, level })) &&
      standsOut(track, { from, to }, out) &&
      !byLostTrigger(scene, track, { from, to }),
  );
}

/** True when a lost trigger took the channel along. */
export function byLostTrigger(scene: PullScene, { meaning }: SceneTrack, { from, to }: Stretch): boolean {
  if (!BY_TRIGGER.has(meaning)) return false;
  return syncEvidence(scene).windows.some((loss) => to > loss.from - BESIDE && from < loss.to + BESIDE);
}

/** True for a channel whose meaning is unknown and that lives, when its values stay well above zero but for those near it. */
function staysUp(scene: PullScene, track: SceneTrack, { level, zero }: { level: number; zero: number }): boolean {
  if (track.meaning !== 'unknown' || !livesByItself(scene, track)) return false;
  return track.raw.every(
    (value, i) =>
      !(track.times[i] > scene.from + EDGE && track.times[i] < scene.to - EDGE) ||
      !(value < STAYS_UP * level && value > zero),
  );
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** A channel that is gone shows nothing, almost zero, or one and the same value; what still moves is measured. */
function restsAt({ times, raw }: SceneTrack, { from, to }: Stretch, zero: number): boolean {
  const inside = finite(raw.filter((_, i) => times[i] >= from && times[i] <= to));
  return inside.every((value) => Math.abs(value) <= zero) || inside.every((value) => value === inside[0]);
}

/** True when the values just before and just after are well above zero: it fell and came back at once. */
function comesBack({ times, raw }: SceneTrack, { from, to, level }: Stretch & { readonly level: number }): boolean {
  const before = raw.findLast((value, i) => times[i] < from && Number.isFinite(value)) ?? Number.NaN;
  const after = raw.find((value, i) => times[i] > to && Number.isFinite(value)) ?? Number.NaN;
  return before > 0.3 * level && after > 0.3 * level;
}

/** True when no other step nearby comes near those down and back: what swings through zero, or is noise about it, was never gone. */
function standsOut({ times, raw }: SceneTrack, { from, to }: Stretch, out: (index: number) => boolean): boolean {
  const first = times.findIndex((time) => time >= from);
  const last = times.findLastIndex((time) => time <= to);
  const fallen = raw.subarray(first, last + 1).find((value) => Number.isFinite(value));
  if (fallen === undefined) return true;
  const step = Math.min(Math.abs(raw[first - 1] - fallen), Math.abs(raw[last + 1] - fallen));
  const steps: number[] = [];
  let largest = 0;
  for (let i = Math.max(1, first - 5 * NEIGHBOURS); i < Math.min(raw.length, last + 1 + 5 * NEIGHBOURS); i++) {
    if (out(i) || out(i - 1) || Number.isNaN(raw[i] - raw[i - 1])) continue;
    const other = Math.abs(raw[i] - raw[i - 1]);
    steps.push(other);
    if (i >= first - NEIGHBOURS && i <= last + 1 + NEIGHBOURS) largest = Math.max(largest, other);
  }
  return step > LONELY * largest && step > USUAL * middle(steps.length > 0 ? steps : [0]);
}
