import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { trackBySpeed } from '../../evidence/by-speed.ts';
import { held, nearPressure } from '../../evidence/references.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';

/**
 * Exhaust restriction: pressure before the turbine over manifold pressure has risen against the day's other pulls, most where the flow
 * is largest.
 *
 * @source limit: common practice, no source
 */
export const exhaustRestriction: Detector = {
  fault: 'exhaust-restriction',
  subject: 'charge-air',
  needs: ['exhaust-pressure', 'manifold-pressure'],
  lookAlikes: ['boost-leak'],
  look: (scene, limits) => {
    const here = ratioBySpeed(scene);
    const others = nearPressure(scene, limits, ['exhaust-restriction', 'wrong-scale']).flatMap(
      (other) => ratioBySpeed(other) ?? [],
    );
    const compared = here && held(here, others);
    if (!compared) return { why: 'no other pull at the same manifold pressure that logs exhaust pressure' };
    const rise = compared.here.map((value, i) => value - compared.there[i]);
    const half = Math.floor(rise.length / 2);
    const [low, high] = [middle(rise.slice(0, half)), middle(rise.slice(half))];
    const limit = limits['exhaust.ratio-rise'].value;
    const features = [against(limits, 'exhaust.ratio-rise', high), informs('rise at low speed', low, 'ratio')];
    if (!(high > limit && high > low)) return { features };
    return { windows: [windowOf(scene, scene)], features, strength: strengthOf(high / limit, 0.6, 0.9), stopClass: 1 };
  },
};

function ratioBySpeed(scene: PullScene): Float64Array | undefined {
  const exhaust = sceneTrack(scene, 'exhaust-pressure');
  const manifold = sceneTrack(scene, 'manifold-pressure');
  if (!exhaust || !manifold) return undefined;
  const below = trackBySpeed(scene, manifold);
  return trackBySpeed(scene, exhaust).map((value, k) => value / below[k]);
}
