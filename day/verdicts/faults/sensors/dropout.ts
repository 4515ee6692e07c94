import { against, type Detector, type FaultWindow, informs, windowOf } from '../../detector.ts';
import { lives, withoutChannel } from '../../evidence/consequence.ts';
import { byLostTrigger, goneIn } from '../../evidence/gone.ts';
import { atScaleEnd, longestHold } from '../../evidence/holds.ts';
import { livesByItself } from '../../evidence/unrest.ts';
import type { PullScene } from '../../scene/scene.ts';
import type { SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** A kept last value counts from so many renewals on. @source our default */
const RENEWALS = 6;
/** …and when the longest other hold is shorter than it by this. @source our default */
const TIMES_USUAL = 4;
/** A value kept for nearly as long as one that is called stuck leaves as little of a guard [1]. @source our default */
const NEARLY_STUCK = 0.85;

/**
 * A channel that is gone for a moment – zero, nothing, the bottom of its scale, or its last value – and comes back to where it was, while
 * the engine goes on. @source our default
 */
export const dropout: Detector = {
  fault: 'dropout',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['lost-sync', 'rev-or-torque-cut', 'stuck-channel', 'spikes', 'fuel-pressure-drop'],
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
    const without = withoutChannel(scene, first.track);
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
      stopClass: first.kept && longest > NEARLY_STUCK * limits['stuck.shortest'].value ? without.stopClass : 1,
      voids: without.voids,
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
  const windows = goneIn(scene, limits, track);
  return windows.length > 0 ? { windows, kept: false } : { windows: keptLast(scene, limits, track), kept: true };
}

/** A last value kept for less time than would be called stuck; not the end of a scale. */
function keptLast(scene: PullScene, limits: Limits, track: SceneTrack): readonly FaultWindow[] {
  const hold = longestHold(scene, track);
  if (!hold || hold.renewals < Math.max(RENEWALS, TIMES_USUAL * hold.usual)) return [];
  if (!(hold.chance < limits['stuck.chance'].value) || atScaleEnd(scene, track, hold)) return [];
  return hold.lasts < limits['stuck.shortest'].value && hold.to - hold.from > 0.1 && !byLostTrigger(scene, track, hold)
    ? [windowOf(scene, hold)]
    : [];
}
