import { REASONS } from '../../../channels/index.ts';
import { against, type Detector, type FaultWindow, informs, windowOf, windowsWhere } from '../../detector.ts';
import { lives, withoutChannel } from '../../evidence/consequence.ts';
import { longestHold } from '../../evidence/holds.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import type { PullScene } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** A kept last value counts from so many renewals on. @source our default */
const RENEWALS = 6;
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
    const living = scene.tracks.filter(({ meaning }) => lives(meaning));
    if (living.length === 0) return { why: 'no channel here must be there throughout a pull' };
    const gone = living.flatMap((track) => {
      const windows = outIn(scene, limits, track);
      return windows.length > 0 ? [{ track, windows }] : [];
    });
    const [first] = gone;
    if (!first) return { features: [] };
    const longest = Math.max(...first.windows.map(({ from, to }) => to - from));
    return {
      windows: first.windows,
      features: [
        against(limits, 'dropout.longest', longest),
        ...gone.slice(1).map(({ track, windows }) => informs(`also ${track.name}`, windows.length, 'count')),
      ],
      strength: 0.8,
      stopClass: 1,
      voids: withoutChannel(scene, first.track).voids,
      channel: first.track.name,
    };
  },
};

function outIn(scene: PullScene, limits: Limits, track: SceneTrack): readonly FaultWindow[] {
  const { times, raw, mask, rate } = track;
  const full = (i: number): boolean => times[i] > scene.from + EDGE && times[i] < scene.to - EDGE;
  const level = middle(raw.filter((_, i) => full(i)));
  const scaled = NEVER_ZERO.has(track.meaning) && level > 0;
  const out = (i: number): boolean =>
    full(i) &&
    (mask[i] === REASONS.dropout ||
      Number.isNaN(raw[i]) ||
      (scaled && Math.abs(raw[i]) < limits['dropout.left'].value * level));
  const windows = windowsWhere(scene, { times, holds: out, shortest: 0, join: 2 / rate }).filter(
    ({ from, to }) =>
      to - from < limits['dropout.longest'].value &&
      from > scene.from + EDGE &&
      to < scene.to - EDGE &&
      (!scaled || comesBack(track, { from, to, level })),
  );
  const all = windows.length > 0 ? windows : keptLast(scene, limits, track);
  if (!BY_TRIGGER.has(track.meaning)) return all;
  const lost = syncEvidence(scene).windows;
  return all.filter((window) => !lost.some(({ from, to }) => window.to > from - 0.3 && window.from < to + 0.3));
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

/** A last value kept for less time than would be called stuck. */
function keptLast(scene: PullScene, limits: Limits, track: SceneTrack): readonly FaultWindow[] {
  const hold = longestHold(scene, track);
  if (!hold || hold.renewals < RENEWALS || !(hold.chance < limits['stuck.chance'].value)) return [];
  return hold.to - hold.from < limits['stuck.shortest'].value && hold.to - hold.from > 0.1
    ? [windowOf(scene, hold)]
    : [];
}
