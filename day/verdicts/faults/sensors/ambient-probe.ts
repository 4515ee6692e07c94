import { against, type Detector, type Feature, informs, type Seen, windowOf } from '../../detector.ts';
import { endLevel, startLevel } from '../../evidence/references.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import type { Limits } from '../../thresholds.ts';

/** Earlier pulls looked at, and the share of the limit that one of them must have risen by as well. @source our default */
const EARLIER = 12;
const ALSO = 0.5;
/** In a pause the probe must fall by this share of what it had risen. @source our default */
const FALLS = 0.4;
/** From pull to pull the probe must rise by as many readings at least. @source our default */
const CLIMBS = 2;

/**
 * The probe of the surrounding air is warmed by the vehicle: it rises in this pull as in an earlier one and falls between them, or it
 * climbs from pull to pull and comes down again in a pause. Weather does not come and go with the pulls.
 *
 * @source signature: common practice, no source; limit: our default
 */
export const ambientProbe: Detector = {
  fault: 'ambient-probe',
  subject: 'sensors',
  needs: ['ambient-temperature'],
  lookAlikes: ['charge-heat-soak'],
  look: (scene, limits) => {
    const pulls = [scene, ...scene.references.slice(0, EARLIER)]
      .map((each) => ({ start: startLevel(each, 'ambient-temperature'), end: endLevel(each, 'ambient-temperature') }))
      .filter(({ start, end }) => Number.isFinite(start + end))
      .reverse();
    const here = pulls.at(-1);
    if (!here) return { why: 'the probe has no value near this pull', missing: ['ambient-temperature'] };
    const limit = limits['ambient.rise'].value;
    const within = here.end - here.start;
    const { climbed, steps, came } = climbOf(
      pulls.map(({ start }) => start),
      limits,
    );
    const features = [
      against(limits, 'ambient.rise', Math.max(within, climbed)),
      informs('rise within the pull', within, 'temperature-difference'),
      informs('climbed since the last pause', climbed, 'temperature-difference'),
      informs('came down in a pause', came, 'temperature-difference'),
    ];
    const before = pulls.slice(0, -1);
    const again = before.filter(({ start, end }) => end - start > ALSO * limit).length;
    const last = before.at(-1);
    const fell = last !== undefined && last.end - here.start > FALLS * (last.end - last.start);
    if (within > limit && again > 0 && fell) return seen(scene, features, again > 1 ? 0.8 : 0.65);
    if (climbed > limit && steps >= CLIMBS && came > FALLS * limit) return seen(scene, features, 0.6);
    if (within > limit && last === undefined)
      return { why: 'the probe rises in this pull, but no earlier pull shows whether it does so every time' };
    if (climbed > limit && steps >= CLIMBS)
      return { why: 'the probe climbs from pull to pull: without a pause it cannot be told from the weather' };
    return { features };
  },
};

function seen(scene: PullScene, features: readonly Feature[], strength: number): Seen {
  const channel = sceneTrack(scene, 'ambient-temperature')?.name;
  return {
    windows: [windowOf(scene, scene)],
    ...{ features, strength, stopClass: 1, voids: 'channel' },
    ...(channel === undefined ? {} : { channel }),
  };
}

interface Climb {
  /** Rise of the start since it last came down [K], over how many pulls, and how far it came down at most before that [K]. */
  readonly climbed: number;
  readonly steps: number;
  readonly came: number;
}

function climbOf(starts: readonly number[], limits: Limits): Climb {
  let [lowest, steps, came] = [starts[0], 0, 0];
  for (let i = 1; i < starts.length; i++) {
    const fall = starts[i - 1] - starts[i];
    if (fall > FALLS * limits['ambient.rise'].value) {
      came = Math.max(came, fall);
      [lowest, steps] = [starts[i], 0];
    } else if (fall < 0) steps += 1;
  }
  return { climbed: starts[starts.length - 1] - lowest, steps, came };
}
