import { STANDARD_ATMOSPHERE } from '../../../../core/quantities/index.ts';
import { against, type Detector, informs, type Untold, windowOf } from '../../detector.ts';
import { lives, withoutChannel } from '../../evidence/consequence.ts';
import { atScaleEnd, type Hold, longestHold } from '../../evidence/holds.ts';
import { startLevel } from '../../evidence/references.ts';
import { sameTrack } from '../../evidence/same-track.ts';
import { gridOf, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { finite, largest, middle, smallestStep } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Fewest renewals of a flat top. @source our default */
const RENEWALS = 6;
/** A flat top is longer than the longest other hold by this. @source our default */
const TIMES_USUAL = 4;
/** A channel that no pull writes in as many values has steps, not an end. @source our default */
const VALUES = 8;
/** A held pressure within this share of its target is a good controller. @source our default */
const ON_TARGET = 0.02;
/** Quantities that something holds on purpose. @source common practice, no source */
const CONTROLLED = new Set(['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'lambda']);

/**
 * A flat top at the end of a sensor's scale: the same highest value again and again where the channel's own noise never lets it rest, left
 * with the load. What lies beyond is unknown. A pressure that sits on its target is a good controller, not an end.
 *
 * @source our default
 */
export const saturatedChannel: Detector = {
  fault: 'saturated-channel',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['stuck-channel', 'boost-creep', 'lean-mixture'],
  look: (scene, limits) => {
    const living = [...scene.tracks, ...scene.unusable].filter(({ meaning }) => lives(meaning));
    if (living.length === 0) return { why: 'no channel here has an end of scale to run into' };
    const flat = living.flatMap((track) => {
      const hold = longestHold(scene, track);
      return hold && isEnd(scene, limits, { track, hold }) ? [{ track, hold }] : [];
    });
    flat.sort((one, other) => other.hold.to - other.hold.from - (one.hold.to - one.hold.from));
    const [worst] = flat;
    if (!worst) return oneValueThroughout(living) ?? { features: [] };
    const { track, hold } = worst;
    return {
      windows: [windowOf(scene, hold)],
      features: [
        against(limits, 'saturated.shortest', hold.to - hold.from),
        against(limits, 'stuck.chance', hold.chance),
        ...flat.slice(1).map((one) => informs(`also ${one.track.name}`, one.hold.to - one.hold.from, 'time')),
      ],
      strength: 0.85,
      ...withoutChannel(scene, track),
      channel: track.name,
      // A pressure that is cut off makes the one before the turbine look high beside it.
      lookAlikes: track.meaning === 'manifold-pressure' ? ['exhaust-restriction'] : [],
    };
  },
};

/** A sensor that shows one value from the first to the last reading of a log may be stuck, or its end may lie below all that it should show: a second one would tell. */
function oneValueThroughout(living: readonly SceneTrack[]): Untold | undefined {
  const [constant] = living.filter(({ raw, meaning }) => {
    const known = finite(raw);
    return ENDS.has(meaning) && known.length >= THROUGHOUT && largest(known) === -largest(known.map((value) => -value));
  });
  return (
    constant && {
      why: `${constant.name} shows one value through the whole log: stuck, or at the end of its scale, which a second one would show`,
      missing: [constant.meaning],
    }
  );
}

/** Readings that make a whole log. @source our default */
const THROUGHOUT = 60;
/** Pressures whose gauge may end too low. @source common practice, no source */
const ENDS: ReadonlySet<string> = new Set([
  ...['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'exhaust-pressure'],
  ...['oil-pressure', 'fuel-pressure', 'coolant-pressure', 'crankcase-pressure'],
]);

function isEnd(
  scene: PullScene,
  limits: Limits,
  { track, hold }: { readonly track: SceneTrack; readonly hold: Hold },
): boolean {
  if (hold.to - hold.from < limits['saturated.shortest'].value || hold.renewals < RENEWALS) return false;
  if (!(hold.chance < limits['stuck.chance'].value) || !atScaleEnd(scene, track, hold)) return false;
  // Where coarse steps or filtering let a channel rest as long elsewhere, a flat top says nothing.
  if (hold.renewals < TIMES_USUAL * hold.usual || isCoarse(scene, track)) return false;
  if (track.meaning === 'lambda' && isMixture(scene, limits, { track, hold })) return false;
  if (BEHIND_THE_AIR.has(track.meaning) && isOutsideAir(scene, track, hold)) return false;
  return !CONTROLLED.has(track.meaning) || !onTarget(scene, track, hold) || wasRestless(scene, track);
}

/** Absolute pressures that are the surrounding air's where nothing boosts them and the throttle is open. @source common practice, no source */
const BEHIND_THE_AIR = new Set(['manifold-pressure', 'boost-pressure', 'compressor-inlet-pressure']);
/** Steps of this share of the pressure hide its noise; and it is the air's within this share and a step [1]. @source our default: ducts and filter take some of it */
const COARSE = 0.01;
const NEAR_AIR = 0.05;

/** True where coarse steps let the pressure of the surrounding air rest: its end is the air's, not the sensor's. */
function isOutsideAir(scene: PullScene, { raw }: SceneTrack, { value }: Hold): boolean {
  const step = smallestStep(raw);
  const known = startLevel(scene, 'barometric-pressure');
  const air = Number.isFinite(known) ? known : STANDARD_ATMOSPHERE;
  return step > COARSE * value && Math.abs(value - air) < NEAR_AIR * air + step;
}

function isCoarse(scene: PullScene, track: SceneTrack): boolean {
  const tracks = [track, ...scene.references.flatMap((other) => sameTrack(other, track) ?? [])];
  return tracks.every(({ raw }) => new Set(finite(raw)).size < VALUES);
}

/** At the very ends of a lambda sensor mixture or air is what is wrong, not the sensor. An engine that burns lean by itself may end at its rich side anywhere. */
function isMixture(
  scene: PullScene,
  limits: Limits,
  { track, hold: { value } }: { readonly track: SceneTrack; readonly hold: Hold },
): boolean {
  if (value < limits['rich.absolute'].value) return true;
  const atTop = value >= largest(track.raw);
  return value > limits['wrong-scale.free-air'].value && (atTop || scene.facts.engine.ignition !== 'compression');
}

/** True when an earlier pull shows that a controller does not keep this channel still: its noise was there. */
function wasRestless(scene: PullScene, track: SceneTrack): boolean {
  return scene.references.some((other) => {
    const same = sameTrack(other, track);
    return same !== undefined && !((longestHold(other, same)?.renewals ?? 0) >= RENEWALS);
  });
}

function onTarget(scene: PullScene, { meaning }: SceneTrack, hold: Hold): boolean {
  const target = sceneTrack(scene, meaning === 'lambda' ? 'lambda-target' : 'manifold-target');
  if (!target) return false;
  const asked = middle(onTimes(target, gridOf(scene, 20, hold)));
  return Math.abs(hold.value / asked - 1) < ON_TARGET;
}
