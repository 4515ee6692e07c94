import type { Meaning } from '../../../channels/index.ts';
import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { withoutChannel } from '../../evidence/consequence.ts';
import { sameTrack } from '../../evidence/same-track.ts';
import { livesByItself } from '../../evidence/unrest.ts';
import { kept } from '../../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';

/** What rises and falls with the load at once, and what is judged against it. */
const MARKS: readonly Meaning[] = ['tractive-force', 'brake-force', 'manifold-pressure', 'throttle', 'pedal'];
const JUDGED: readonly Meaning[] = [
  ...(['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'air-flow', 'fuel-flow', 'lambda'] as const),
  ...(['fuel-pressure-difference', 'turbo-speed', 'oil-pressure', 'throttle', 'exhaust-temperature'] as const),
];
/** Lift-off is looked at from before to after the end of full load [s]; a step must stand out of the noise this many times. @source our default */
const BEFORE = 0.8;
const AFTER = 2.5;
const STANDS_OUT = 12;
const RATE = 50;
/** Earlier pulls looked at. @source our default */
const EARLIER = 4;

/**
 * A channel that tells late: at lift-off it falls later than in earlier pulls, measured against what falls with the load at once. Heavy
 * filtering and a long hose look the same; a sensor that always was slow is no fault of this pull.
 *
 * @source our default
 */
export const laggingChannel: Detector = {
  fault: 'lagging-channel',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['clock-fault', 'boost-overshoot'],
  look: (scene, limits) => {
    const mark = MARKS.flatMap((meaning) => sceneTrack(scene, meaning) ?? []).find((track) =>
      Number.isFinite(halfTime(scene, track)),
    );
    if (!mark) return { why: 'nothing shows when the load was taken off' };
    const limit = limits['lagging.later'].value;
    const judged = [
      ...JUDGED.flatMap((meaning) => sceneTrack(scene, meaning) ?? []).filter((track) => track !== mark),
      ...scene.tracks.filter((track) => livesByItself(scene, track)),
    ];
    const found = judged.flatMap((track) => {
      const own = markFor(scene, track, mark);
      const later = lateness(scene, track, own) - usual(scene, track, own);
      return Number.isFinite(later) ? [{ track, later }] : [];
    });
    if (found.length === 0) return { why: 'no earlier pull shows how quick each channel used to be' };
    const [worst] = found.sort((one, other) => other.later - one.later);
    const features = [
      against(limits, 'lagging.later', worst.later),
      informs(`against ${mark.name}`, worst.later, 'time'),
    ];
    const beyond = found.filter(({ later, track }) => later > limit * slack(track) + 2 / track.rate);
    if (beyond.length === 0) return { features };
    // When everything is late, it is the mark or the clock.
    if (beyond.length > 1 && beyond.length > found.length / 2) return { features };
    return {
      windows: [windowOf(scene, scene)],
      features,
      strength: strengthOf(worst.later / limit, 0.6, 0.8),
      ...withoutChannel(scene, worst.track),
      stopClass: 1,
      channel: worst.track.name,
    };
  },
};

/** How much of the limit a channel needs: oil pressure depends on how the engine runs out as well. @source our default */
function slack({ meaning }: SceneTrack): number {
  return meaning === 'oil-pressure' ? 2 : 1;
}

/** Oil pressure falls with the engine's speed, not with its load. */
function markFor(scene: PullScene, { meaning }: SceneTrack, mark: SceneTrack): SceneTrack {
  const speed = meaning === 'oil-pressure' ? sceneTrack(scene, 'engine-speed') : undefined;
  return speed ?? mark;
}

function lateness(scene: PullScene, track: SceneTrack, mark: SceneTrack): number {
  return halfTime(scene, track) - halfTime(scene, mark);
}

function usual(scene: PullScene, track: SceneTrack, mark: SceneTrack): number {
  return middle(
    scene.references
      .filter(({ spoiled }) => !spoiled.includes('lagging-channel'))
      .slice(0, EARLIER)
      .flatMap((other) => {
        const [same, there] = [sameTrack(other, track), sceneTrack(other, mark.meaning)];
        return same && there ? [lateness(other, same, there)] : [];
      }),
  );
}

/** When a channel has gone half of its way at lift-off [s]; NaN when it does not step there. */
const halfTime: (scene: PullScene, track: SceneTrack) => number = kept((scene, track) => {
  const times = gridOf(scene, RATE, { from: scene.to - BEFORE, to: scene.to + AFTER });
  const values = onTimes(track, times);
  const [start, end] = [middle(values.slice(0, RATE / 2)), middle(values.slice(-RATE / 2))];
  if (!(Math.abs(end - start) > STANDS_OUT * track.noise) || end === start) return Number.NaN;
  const at = values.findIndex((value) => (value - start) / (end - start) > 0.5);
  return at < 0 ? Number.NaN : times[at];
});
