import { against, type Detector, informs, strengthOf, type Unseen, type Untold, windowOf } from '../../detector.ts';
import { closingDuty } from '../../evidence/boost.ts';
import { trackBySpeed } from '../../evidence/by-speed.ts';
import { equalPressure, held, heldAgainst, nearPressure } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

const SPOILING: readonly Fault[] = ['exhaust-restriction', 'wrong-scale'];
/** Where the flow is largest: this share of the compared speeds, from the top. @source our default */
const TOP = 1 / 3;
/** Duty that has moved by less than this share of a leak's limit has not moved. @source our default */
const UNMOVED = 0.4;

/**
 * Exhaust restriction: pressure before the turbine over manifold pressure has risen against the day's other pulls, most where the flow
 * is largest. Where it is not logged, a wastegate that works no harder than usual for the same pressure still shows that nothing is in the way.
 *
 * @source limit: common practice, no source
 */
export const exhaustRestriction: Detector = {
  fault: 'exhaust-restriction',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['boost-leak'],
  look: (scene, limits) => {
    const here = ratioBySpeed(scene);
    if (!here) return withoutGauge(scene, limits);
    const others = nearPressure(scene, limits, SPOILING).flatMap((other) => ratioBySpeed(other) ?? []);
    const compared = held(here, others);
    if (!compared) return { why: 'no other pull at the same manifold pressure that logs exhaust pressure' };
    const rise = compared.here.map((value, i) => value - compared.there[i]);
    const high = middle(rise.slice(Math.floor(rise.length * (1 - TOP))));
    const low = middle(rise.slice(0, Math.floor(rise.length / 2)));
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

/** What the wastegate tells where pressure before the turbine is not logged: with boost held, a restriction must be made up for by closing it. */
function withoutGauge(scene: PullScene, limits: Limits): Unseen | Untold {
  const missing = ['exhaust-pressure'] as const;
  const reached = equalPressure(scene, limits, SPOILING).length > 0;
  const duty = heldAgainst(scene, limits, { meaning: 'wastegate-duty', spoiling: SPOILING });
  if (!duty || !reached)
    return { why: 'missing exhaust-pressure, and no wastegate duty at the same pressure', missing };
  const closing = closingDuty(scene);
  const moved = duty.here.map((value, i) => (closing === 0 ? 1 : closing) * (value - duty.there[i]));
  const high = middle(moved.slice(Math.floor(moved.length * (1 - TOP))));
  const features = [informs('more wastegate duty where the flow is largest', high, 'fraction')];
  if (Math.abs(high) < UNMOVED * limits['boost-leak.duty'].value) return { features };
  return {
    why: 'missing exhaust-pressure: the wastegate works otherwise than usual, which a restriction would explain, and other things too',
    missing,
  };
}
