import { against, type Detector, type Feature, informs, type Seen, strengthOf, windowOf } from '../../detector.ts';
import { endLevel, startLevel } from '../../evidence/references.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';

/** Earlier pulls looked at. @source our default */
const EARLIER = 12;
/** In a pause the probe must fall by this share of what it had risen; a rise in an earlier pull counts from the other share. @source our default */
const FALLS = 0.4;
const ALSO = 0.5;
/** So many earlier pulls must say that the probe left its witness, where there are as many. @source our default */
const AGREEING = 2;

/**
 * The probe of the surrounding air is warmed by the vehicle: it rises within a pull, which no weather does in seconds; or it climbs from pull
 * to pull while the charge, which starts from the air that is really drawn in, does not climb with it.
 *
 * A charge cooler that soaks up heat raises the charge alone and a day that grows warm raises both: neither parts the probe from the charge this way.
 *
 * @source signature: common practice, no source; limit: our default
 */
export const ambientProbe: Detector = {
  fault: 'ambient-probe',
  subject: 'sensors',
  needs: ['ambient-temperature'],
  lookAlikes: ['charge-heat-soak'],
  look: (scene, limits) => {
    const here = airOf(scene);
    if (!Number.isFinite(here.start + here.end))
      return { why: 'the probe has no value near this pull', missing: ['ambient-temperature'] };
    const earlier = scene.references.slice(0, EARLIER).filter((each) => Number.isFinite(airOf(each).start));
    const limit = limits['ambient.rise'].value;
    const within = here.end - here.start;
    const climbed = here.start - Math.min(here.start, ...earlier.map((each) => airOf(each).start));
    const parted = partedBy(scene, earlier);
    const features = [
      against(limits, 'ambient.rise', Math.max(within, Number.isFinite(parted) ? parted : 0)),
      informs('rise within the pull', within, 'temperature-difference'),
      informs('climbed since the coolest pull', climbed, 'temperature-difference'),
      ...(Number.isFinite(parted) ? [informs('of that not in the charge', parted, 'temperature-difference')] : []),
    ];
    // What rises far within seconds needs no second pull to be told.
    if (within > limit)
      return seen(scene, features, Math.max(oftenRisen(earlier, here, limit), strengthOf(within / limit, 0.6, 0.8)));
    if (parted > limit) return seen(scene, features, parted > 2 * limit ? 0.75 : 0.6);
    if (climbed > limit && Number.isNaN(parted))
      return {
        why: 'the probe climbs from pull to pull: without an unsoaked charge temperature beside it, it cannot be told from the weather',
        missing: sceneTrack(scene, 'charge-temperature') ? [] : ['charge-temperature'],
      };
    return { features };
  },
};

function seen(scene: PullScene, features: readonly Feature[], strength: number): Seen {
  const channel = sceneTrack(scene, 'ambient-temperature')?.name;
  return {
    windows: [windowOf(scene, scene)],
    ...{ features, strength, stopClass: 0, voids: 'channel' },
    ...(channel === undefined ? {} : { channel }),
  };
}

interface Levels {
  readonly start: number;
  readonly end: number;
}

function airOf(scene: PullScene): Levels {
  return { start: startLevel(scene, 'ambient-temperature'), end: endLevel(scene, 'ambient-temperature') };
}

/** How surely a rise within the pull is the vehicle's doing: more when earlier pulls did the same and it fell again in between. */
function oftenRisen(earlier: readonly PullScene[], here: Levels, limit: number): number {
  const risen = earlier.map(airOf).filter(({ start, end }) => end - start > ALSO * limit);
  const last = risen[0];
  const fell = last !== undefined && last.end - here.start > FALLS * (last.end - last.start);
  return fell ? (risen.length > 1 ? 0.8 : 0.7) : 0.6;
}

/**
 * How far the probe climbed above what the charge did, at the start of full load, against earlier pulls [K]; NaN without a charge temperature or
 * where the charge itself was soaked.
 */
function partedBy(scene: PullScene, earlier: readonly PullScene[]): number {
  const chargeOf = (each: PullScene): number => startLevel(each, 'charge-temperature');
  const [air, charge] = [airOf(scene).start, chargeOf(scene)];
  const apart = earlier
    .filter((each) => !each.spoiled.includes('charge-heat-soak'))
    .map((each) => air - airOf(each).start - Math.max(0, charge - chargeOf(each)))
    .filter(Number.isFinite)
    .sort((a, b) => b - a);
  return apart[Math.min(AGREEING, apart.length) - 1] ?? Number.NaN;
}
