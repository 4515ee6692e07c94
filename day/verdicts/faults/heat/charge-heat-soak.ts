import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { endLevel, startLevel } from '../../evidence/references.ts';
import { middle } from '../../scene/series.ts';

/** Pulls before this one that say how warm the charge usually is at the start. @source our default */
const NEAREST = 3;

/**
 * Charge cooler soaked with heat: the charge starts this pull hotter than the last ones did, beyond what the surrounding air explains, and
 * ends it hotter as well.
 *
 * @source limit: common practice, no source
 */
export const chargeHeatSoak: Detector = {
  fault: 'charge-heat-soak',
  subject: 'heat',
  needs: ['charge-temperature'],
  lookAlikes: ['boost-leak'],
  look: (scene, limits) => {
    const others = besideState(scene, ['charge-heat-soak', 'boost-leak'])
      .filter((reference) => Number.isFinite(startLevel(reference, 'charge-temperature')))
      .slice(0, NEAREST);
    if (others.length === 0) return { why: 'no other pull to compare the charge temperature with' };
    const airOf = (each: typeof scene): number => startLevel(each, 'ambient-temperature');
    const air = airOf(scene) - middle(others.map(airOf));
    const warmer = Number.isFinite(air) ? Math.max(0, air) : 0;
    const above = (level: typeof startLevel): number =>
      level(scene, 'charge-temperature') - middle(others.map((other) => level(other, 'charge-temperature'))) - warmer;
    const [start, end] = [above(startLevel), above(endLevel)];
    const limit = limits['heat-soak.start'].value;
    const features = [
      against(limits, 'heat-soak.start', start),
      informs('charge hotter at the end', end, 'temperature-difference'),
      informs('surrounding air warmer', warmer, 'temperature-difference'),
    ];
    if (!(start > limit && end > 0.5 * limit)) return { features };
    return { windows: [windowOf(scene, scene)], features, strength: strengthOf(start / limit, 0.6), stopClass: 1 };
  },
};
