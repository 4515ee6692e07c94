import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { endLevel, startLevel } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';

/** Pulls before this one that say how cool the charge can start. @source our default */
const EARLIER = 6;
/** From so many earlier pulls on, two of them must say that the charge started cooler. @source our default */
const SEVERAL = 5;

/** Hotter than this no cooler starts: another sensor is read there [K]. @source our default */
const MOST = 35;

/**
 * Charge cooler soaked with heat: the charge starts this pull hotter than it did in earlier ones, beyond what the surrounding air explains,
 * and ends it hotter as well. Heat that is gathered little by little, pull after pull, is held against the coolest start.
 *
 * @source limit: common practice, no source
 */
export const chargeHeatSoak: Detector = {
  fault: 'charge-heat-soak',
  subject: 'heat',
  needs: ['charge-temperature'],
  lookAlikes: ['boost-leak'],
  look: (scene, limits) => {
    const hotter = besideCharge(scene)
      .map((other) => hotterThan(scene, other))
      .filter(({ start }) => Number.isFinite(start))
      .slice(0, EARLIER)
      .sort((a, b) => b.start - a.start);
    if (hotter.length === 0) return { why: 'no other pull to compare the charge temperature with' };
    if (isUnderWay(scene))
      return { why: 'the pull is known from its middle on only: how hot the charge started is not' };
    const { start, end, air } = hotter[hotter.length < SEVERAL ? 0 : 1];
    const limit = limits['heat-soak.start'].value;
    const features = [
      against(limits, 'heat-soak.start', start),
      informs('charge hotter at the end', end, 'temperature-difference'),
      informs('surrounding air warmer', air, 'temperature-difference'),
    ];
    if (!(start > limit && end > 0.5 * limit && start < MOST)) return { features };
    return { windows: [windowOf(scene, scene)], features, strength: strengthOf(start / limit, 0.68), stopClass: 1 };
  },
};

/** Just before a pull begins the manifold holds less than this share of what it does in it [1], at that time [s]. @source our default: a shut throttle leaves a third */
const UNLOADED = 0.8;
const JUST_BEFORE = { from: 1, to: 0.5 } as const;

/** True for a pull whose log, or whose throttle, tells of it only when it is under way. */
function isUnderWay(scene: PullScene): boolean {
  const pressure = sceneTrack(scene, 'manifold-pressure');
  if (!pressure) return false;
  const before = levelBetween(pressure, scene.from - JUST_BEFORE.from, scene.from - JUST_BEFORE.to);
  // Behind a gap of the log it was under way as well.
  if (Number.isNaN(before)) return pressure.times[0] < scene.from - JUST_BEFORE.from;
  return before > UNLOADED * levelBetween(pressure, scene.from, scene.to);
}

/** Pulls that may say how cool the charge starts: those whose air probe read the air of the room, where there are any, as nobody knows how warm the air of the others was. */
function besideCharge(scene: PullScene): readonly PullScene[] {
  const known = besideState(scene, [...SPOILING, 'ambient-probe']);
  return known.length > 0 ? known : besideState(scene, SPOILING);
}

const SPOILING: readonly Fault[] = ['charge-heat-soak', 'boost-leak'];

/** How much hotter the charge starts and ends here than in another pull beyond the surrounding air, and how much warmer that is [K]. */
function hotterThan(
  scene: PullScene,
  other: PullScene,
): { readonly start: number; readonly end: number; readonly air: number } {
  const above = (level: typeof startLevel): number =>
    level(scene, 'charge-temperature') - level(other, 'charge-temperature');
  const air = startLevel(scene, 'ambient-temperature') - startLevel(other, 'ambient-temperature');
  const warmer = Number.isFinite(air) ? Math.max(0, air) : 0;
  return { start: above(startLevel) - warmer, end: above(endLevel) - warmer, air: warmer };
}
