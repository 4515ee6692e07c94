import type { Meaning } from '../../../channels/index.ts';
import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { judgedBy, withoutChannel } from '../../evidence/consequence.ts';
import { CONSTANTS, edgeLag } from '../../evidence/edges.ts';
import { type Earlier, type Lagged, laggedBehind } from '../../evidence/lagged.ts';
import { sameTrack } from '../../evidence/same-track.ts';
import { livesByItself } from '../../evidence/unrest.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import type { SceneTrack } from '../../scene/track.ts';

/** What rises and falls with the load or with speed. */
const JUDGED: readonly Meaning[] = [
  ...(['manifold-pressure', 'boost-pressure', 'exhaust-pressure', 'air-flow', 'fuel-flow', 'lambda'] as const),
  ...(['fuel-pressure-difference', 'turbo-speed', 'oil-pressure', 'throttle', 'exhaust-temperature'] as const),
];
/** Earlier pulls looked at. @source our default */
const EARLIER = 3;
/** What a lag must make of the squares that are left without it, and what of the movement it must explain. @source our default */
const GAIN = { calmer: 3, hidden: 5, asNoisy: 5 } as const;
const EXPLAINED = 0.95;
/** The movement itself must be as large as in the earlier pulls within this factor. @source our default */
const SCALE = 1.5;
/** A filter takes noise away with the speed; what keeps more of it than this is slower itself, or its hose is. @source our default: a first-order lag of three renewals leaves a fifth */
const CALM = 0.45;

/**
 * A channel that tells late: all that it shows is what it showed in earlier pulls through a lag. Where its noise became as much calmer as a filter makes it,
 * it is the channel; where the noise stayed, a long hose or the engine itself may be slower, and that counts for less. A sensor that always was slow is no
 * fault of this pull.
 *
 * @source step response against the channel's own: common practice, no source; limits: our default
 */
export const laggingChannel: Detector = {
  fault: 'lagging-channel',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['clock-fault', 'boost-overshoot', 'lean-mixture'],
  look: (scene, limits) => {
    const limit = limits['lagging.later'].value;
    const found = lagsOf(scene);
    if (found.length === 0) return { why: 'no earlier pull shows how quick each channel used to be' };
    const late = found.filter(({ lagged }) => laterBy(lagged) > limit && fits(lagged));
    // When much is late together, it is the engine or the clock, unless the noise tells.
    const together = late.length > 1 && late.length > found.length / 3;
    const [worst] = late
      .filter(({ lagged, track }) => isCalmer(lagged) || (!together && othersLieOnEarlier(found, track)))
      .sort((one, other) => rank(other.lagged) - rank(one.lagged));
    if (!worst) {
      const latest = Math.max(...found.map(({ lagged }) => (fits(lagged) ? laterBy(lagged) : 0)));
      return { features: [against(limits, 'lagging.later', latest)] };
    }
    const { track, lagged, byEdges } = worst;
    const later = laterBy(lagged);
    const [least, most] = isCalmer(lagged) ? [0.72, 0.9] : Number.isNaN(lagged.calmer) ? [0.7, 0.8] : [0.5, 0.65];
    return {
      windows: [windowOf(scene, scene)],
      features: [
        against(limits, 'lagging.later', later),
        byEdges
          ? informs('its own steps up and down last longer by', CONSTANTS * lagged.lag, 'time')
          : informs('the lag makes what is left smaller by', lagged.gain, 'ratio'),
        ...(Number.isNaN(lagged.calmer) ? [] : [informs('noise over that of earlier pulls', lagged.calmer, 'ratio')]),
      ],
      strength: strengthOf(later / limit, least, most),
      ...withoutChannel(scene, track),
      stopClass: 1,
      channel: track.name,
      lookAlikes: judgedBy(scene, track),
    };
  },
};

/** Other channels that must lie on those of the earlier pulls, and by how much of their movement, before the noise is not asked. @source our default */
const WITNESSES = 2;
const WITNESSED = 0.9;

/** True when other channels show that the pulls can be laid on one another at all. */
function othersLieOnEarlier(found: readonly Found[], { name }: SceneTrack): boolean {
  const others = found.filter(({ track }) => track.name !== name).map(({ lagged }) => lagged.unlagged);
  return others.filter((share) => share > WITNESSED).length >= Math.max(WITNESSES, others.length / 2);
}

/** byEdges: told by its own steps, as it does not lie on the earlier pulls. */
interface Found {
  readonly track: SceneTrack;
  readonly lagged: Lagged;
  readonly byEdges: boolean;
}

function lagsOf(scene: PullScene): readonly Found[] {
  const others = besideState(scene, ['lagging-channel']).slice(0, EARLIER);
  const judged = [
    ...JUDGED.flatMap((meaning) => sceneTrack(scene, meaning) ?? []),
    ...scene.tracks.filter((track) => livesByItself(scene, track)),
  ];
  return judged.flatMap((track) => {
    const earlier = others.flatMap((other) => {
      const same = sameTrack(other, track);
      return same ? [{ scene: other, track: same }] : [];
    });
    const lagged = laggedBehind(scene, track, earlier);
    if (!lagged) return [];
    const lag = fits(lagged) ? Number.NaN : lagOfSteps(scene, { track, earlier });
    const byEdges = lag > 0;
    return [{ track, lagged: byEdges ? { ...lagged, lag, ...AS_GOOD } : lagged, byEdges }];
  });
}

/**
 * Time constant [s] of a throttle that does not lie on that of the earlier pulls, as the driver's foot moved at another speed of the engine: by how long its own steps last. NaN where
 * they tell none.
 */
function lagOfSteps(
  scene: PullScene,
  { track, earlier }: { readonly track: SceneTrack; readonly earlier: readonly Earlier[] },
): number {
  return track.meaning === 'throttle' ? edgeLag(scene, track, earlier) : Number.NaN;
}

/** Two edges that agree are as good as a fit. @source our default */
const AS_GOOD = { gain: GAIN.hidden + 1, explained: 1, scale: 1, calmer: Number.NaN } as const;

/** By how much half of a step is told later [s]. */
function laterBy({ lag }: Lagged): number {
  return Math.LN2 * lag;
}

function isCalmer({ calmer }: Lagged): boolean {
  return calmer < CALM;
}

function fits(lagged: Lagged): boolean {
  const { gain, explained, scale, calmer } = lagged;
  const least = isCalmer(lagged) ? GAIN.calmer : Number.isNaN(calmer) ? GAIN.hidden : GAIN.asNoisy;
  return gain > least && explained > EXPLAINED && scale > 1 / SCALE && scale < SCALE;
}

/** A calm one before one that may be the engine, then by how well it fits. */
function rank(lagged: Lagged): number {
  return (isCalmer(lagged) ? 1e6 : 0) + lagged.gain;
}
