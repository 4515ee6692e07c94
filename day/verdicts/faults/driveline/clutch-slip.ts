import { against, type Detector, strengthOf, windowsWhere } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { wheelKeepsToRoll, wheelRatios } from '../../evidence/wheel.ts';
import type { PullScene } from '../../scene/scene.ts';
import { finite, largest, middle } from '../../scene/series.ts';

/** Slip over its limit from which the clutch has to cool and be looked at [1]. @source our default: twice the customary 1.5 %, of which smoothing and creep hide up to a quarter; that slip gets worse with every pull: common practice, no source */
const HOT = 1.75;
/** And for so long in all [s]. @source our default */
const HEATS = 0.5;

/** Gears are further apart than this [1]. @source common practice, no source */
const GEARS = 0.12;

/** Engine speed leaving the driven wheels while these stay with the roll. @source signature and limit: common practice, no source */
export const clutchSlip: Detector = {
  fault: 'clutch-slip',
  subject: 'driveline',
  needs: ['engine-speed', 'wheel-speed'],
  lookAlikes: ['wheel-slip', 'converter-slip'],
  look: (scene, limits) => {
    if (scene.facts.vehicle.transmission === 'converter') return { why: 'there is a converter, no clutch to slip' };
    const ratios = wheelRatios(scene);
    const known = ratios ? finite(ratios.engineOverWheel).sort((a, b) => a - b) : [];
    if (!ratios || known.length < 10) return { why: 'no driven wheel speed in this pull', missing: ['wheel-speed'] };
    // A slip from the start on leaves no steady ratio to be called a gear; a change of gears is a larger step.
    if (scene.pull.segment.ratio === undefined && known[known.length - 1] - known[0] > GEARS)
      return { why: 'no single gear in this pull' };
    const base = baseOf(scene, known);
    const apart = ratios.engineOverWheel.map((value) => value - base);
    const limit = limits['clutch-slip.departure'].value;
    const windows = windowsWhere(scene, {
      times: ratios.times,
      holds: (i) => apart[i] > limit,
      shortest: limits['clutch-slip.shortest'].value,
      join: 0.1,
    });
    const top = largest(apart);
    const features = [against(limits, 'clutch-slip.departure', top)];
    if (windows.length === 0 || wheelKeepsToRoll(scene, windows) === false) return { features };
    // Twice the customary limit heats a clutch so much that the next pull makes it worse.
    const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0);
    const stopClass = top > HOT * limit && seconds >= HEATS ? 2 : 1;
    return { windows, features, strength: strengthOf(top / limit, 0.55), stopClass, voids: 'power' };
  },
};

/** Where a pull's own ratio is taken from, and how near to the usual one its lowest part must come to be called the same [1]. @source our default */
const OWN = 0.2;
const LOWEST = 0.02;
const SAME = 0.005;
const EARLIER = 4;

/**
 * Engine over driven wheel without slip, ln: that of the earlier pulls where this one starts out with it, as a clutch may slip through most of a pull; else the
 * lower part of its own.
 *
 * @param known ln of engine speed over wheel speed, sorted
 */
function baseOf(scene: PullScene, known: readonly number[]): number {
  const own = known[Math.floor(OWN * known.length)];
  const usual = middle(
    besideState(scene, ['clutch-slip', 'converter-slip', 'wrong-scale', 'lost-sync'])
      .slice(0, EARLIER)
      .map((other) => {
        const there = finite(wheelRatios(other)?.engineOverWheel ?? []).sort((a, b) => a - b);
        return there[Math.floor(OWN * there.length)] ?? Number.NaN;
      }),
  );
  return Math.abs(known[Math.floor(LOWEST * known.length)] - usual) < SAME ? Math.min(own, usual) : own;
}
