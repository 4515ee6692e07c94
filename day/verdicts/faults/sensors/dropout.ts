import { REASONS } from '../../../channels/index.ts';
import { against, type Detector, type FaultWindow, informs, windowOf, windowsWhere } from '../../detector.ts';
import { lives, withoutChannel } from '../../evidence/consequence.ts';
import { atScaleEnd, longestHold } from '../../evidence/holds.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { livesByItself } from '../../evidence/unrest.ts';
import type { PullScene } from '../../scene/scene.ts';
import { finite, middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** A kept last value counts from so many renewals on. @source our default */
const RENEWALS = 6;
/** …and when the longest other hold is shorter than it by this. @source our default */
const TIMES_USUAL = 4;
/** What the reading of a log took for a dropout must be off the channel's level by this share. @source our default: 0 °C for 90 °C in kelvin is a quarter */
const FALLEN = 0.12;
/** An unknown channel that falls below this share of its level, but not to zero, may fall to zero by itself. @source our default */
const STAYS_UP = 0.3;
/** Near tip-in and lift-off a channel may rightly be near zero [s]. @source our default */
const EDGE = 0.3;
/** Channels that cannot be near zero at full load. @source common practice, no source */
const NEVER_ZERO = new Set([
  ...['engine-speed', 'roll-speed', 'roll-rotation', 'wheel-speed', 'vehicle-speed', 'turbo-speed'],
  ...['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'compressor-inlet-pressure', 'lambda', 'air-flow'],
  ...['fuel-flow', 'fuel-pressure', 'fuel-pressure-difference', 'oil-pressure', 'battery-voltage'],
  ...['brake-force', 'tractive-force', 'knock-level'],
]);
/** Channels that a lost trigger takes along. */
const BY_TRIGGER = new Set(['engine-speed', 'brake-force', 'tractive-force', 'fuel-flow', 'air-flow']);

/**
 * A channel that is gone for a moment – zero, nothing, the bottom of its scale, or its last value – and comes back to where it was, while
 * the engine goes on. @source our default
 */
export const dropout: Detector = {
  fault: 'dropout',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['lost-sync', 'rev-or-torque-cut', 'stuck-channel', 'spikes'],
  look: (scene, limits) => {
    const living = scene.tracks.filter((track) => lives(track.meaning) || livesByItself(scene, track));
    if (living.length === 0) return { why: 'no channel here must be there throughout a pull' };
    const gone = living.flatMap((track) => {
      const { windows, kept } = outIn(scene, limits, track);
      return windows.length > 0 ? [{ track, windows, kept }] : [];
    });
    const first = gone.find(({ kept }) => !kept) ?? gone.at(0);
    if (!first) return { features: [] };
    const longest = Math.max(...first.windows.map(({ from, to }) => to - from));
    return {
      windows: first.windows,
      features: [
        against(limits, 'dropout.longest', longest),
        ...gone.flatMap(({ track, windows }) =>
          track === first.track ? [] : [informs(`also ${track.name}`, windows.length, 'count')],
        ),
      ],
      // A value that is kept for a moment may as well be stuck.
      strength: first.kept ? 0.6 : 0.8,
      stopClass: 1,
      voids: withoutChannel(scene, first.track).voids,
      channel: first.track.name,
    };
  },
};

interface Gone {
  readonly windows: readonly FaultWindow[];
  /** True when only a last value was kept. */
  readonly kept: boolean;
}

function outIn(scene: PullScene, limits: Limits, track: SceneTrack): Gone {
  const { times, raw, mask, rate } = track;
  const full = (i: number): boolean => times[i] > scene.from + EDGE && times[i] < scene.to - EDGE;
  const level = middle(raw.filter((value, i) => full(i) && mask[i] !== REASONS.dropout && value !== 0));
  const zero = limits['dropout.left'].value * Math.abs(level);
  const scaled = level > 0 && (NEVER_ZERO.has(track.meaning) || staysUp(scene, track, { level, zero }));
  const away = (i: number): boolean => Math.abs(raw[i] - level) > FALLEN * Math.abs(level);
  const out = (i: number): boolean =>
    full(i) &&
    (Number.isNaN(raw[i]) || (mask[i] === REASONS.dropout && away(i)) || (scaled && Math.abs(raw[i]) < zero));
  const windows = windowsWhere(scene, { times, holds: out, shortest: 0, join: 2 / rate }).filter(
    ({ from, to }) =>
      to - from < limits['dropout.longest'].value &&
      from > scene.from + EDGE &&
      to < scene.to - EDGE &&
      restsAt(track, { from, to }, zero) &&
      (!scaled || comesBack(track, { from, to, level })),
  );
  const all = windows.length > 0 ? { windows, kept: false } : { windows: keptLast(scene, limits, track), kept: true };
  if (!BY_TRIGGER.has(track.meaning)) return all;
  const lost = syncEvidence(scene).windows;
  const clear = (window: FaultWindow): boolean =>
    !lost.some(({ from, to }) => window.to > from - 0.3 && window.from < to + 0.3);
  return { ...all, windows: all.windows.filter(clear) };
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

/** A channel that is gone shows nothing, almost zero, or one and the same value; what still moves is measured. */
function restsAt({ times, raw }: SceneTrack, { from, to }: { from: number; to: number }, zero: number): boolean {
  const inside = finite(raw.filter((_, i) => times[i] >= from && times[i] <= to));
  return inside.every((value) => Math.abs(value) <= zero) || inside.every((value) => value === inside[0]);
}

/** True when the values just before and just after are well above zero: it fell and came back at once. */
function comesBack(
  { times, raw }: SceneTrack,
  { from, to, level }: { readonly from: number; readonly to: number; readonly level: number },
): boolean {
  const before = raw.findLast((value, i) => times[i] < from && Number.isFinite(value)) ?? Number.NaN;
  const after = raw.find((value, i) => times[i] > to && Number.isFinite(value)) ?? Number.NaN;
  return before > 0.3 * level && after > 0.3 * level;
}

/** A last value kept for less time than would be called stuck; not the end of a scale. */
function keptLast(scene: PullScene, limits: Limits, track: SceneTrack): readonly FaultWindow[] {
  const hold = longestHold(scene, track);
  if (!hold || hold.renewals < Math.max(RENEWALS, TIMES_USUAL * hold.usual)) return [];
  if (!(hold.chance < limits['stuck.chance'].value) || atScaleEnd(scene, track, hold)) return [];
  return hold.to - hold.from < limits['stuck.shortest'].value && hold.to - hold.from > 0.1
    ? [windowOf(scene, hold)]
    : [];
}
