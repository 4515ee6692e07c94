import { against, type Detector, informs, strengthOf, type Unseen, type Untold, windowOf } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { closingDuty } from '../../evidence/boost.ts';
import { pressureBySpeed, trackBySpeed } from '../../evidence/by-speed.ts';
import { airLost } from '../../evidence/compressor.ts';
import { gatePressure } from '../../evidence/gate.ts';
import { STARVED } from '../../evidence/inlet.ts';
import { equalPressure, held, heldAgainst, meanRatio, nearPressure } from '../../evidence/references.ts';
import type { Fault } from '../../fault.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';
import { readsWrong } from '../sensors/wrong-scale.ts';

const SPOILING: readonly Fault[] = ['exhaust-restriction', 'wrong-scale'];
/** Where the flow is largest: this share of the compared speeds, from the top. @source our default */
const TOP = 1 / 3;
/** Duty that has moved by less than this share of a leak's limit has not moved. @source our default */
const UNMOVED = 0.4;

/** A restriction is there at all speeds and grows with the square of the flow: rise at low speeds over that at high ones [1]. @source our default: half the flow makes a quarter */
const GROWS = { least: 0.12, most: 0.85 } as const;
/** So much of the rise stands above what the wastegate's own closing makes, where a restriction is behind it [1]. @source our default: in a restriction a quarter and more, as the turbine asks for the rest; a closing wastegate alone up to a tenth, and a fifth in a slight rise */
const BEHIND = 0.24;

/**
 * Exhaust restriction: pressure before the turbine over manifold pressure has risen against the day's other pulls, most where the flow
 * is largest, and by more than a wastegate that was closed further explains: a weak turbine, a leak and a choked compressor make the control close it.
 * Where it is not logged, a wastegate that works no harder than usual for the same pressure still shows that nothing is in the way.
 *
 * @source limit: common practice, no source
 */
export const exhaustRestriction: Detector = {
  fault: 'exhaust-restriction',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['boost-leak'],
  look: (scene, limits) => {
    if (readsWrong(scene, limits, 'exhaust-pressure')) return { why: 'exhaust pressure reads by a wrong scale' };
    const here = ratioBySpeed(scene);
    if (!here) return withoutGauge(scene, limits);
    const near = nearPressure(scene, limits, SPOILING);
    const others = near.length > 0 ? near : higherPressure(scene);
    const compared = held(
      here,
      others.flatMap((other) => ratioBySpeed(other) ?? []),
    );
    if (!compared)
      return { why: 'no other pull at the same manifold pressure or a higher one that logs exhaust pressure' };
    const rise = compared.here.map((value, i) => value - compared.there[i]);
    const high = topOf(rise);
    const low = middle(rise.slice(0, Math.floor(rise.length / 2)));
    const limit = limits['exhaust.ratio-rise'].value;
    const behind = aboveGate(scene, others);
    const features = [
      against(limits, 'exhaust.ratio-rise', high),
      informs('rise at low speed', low, 'ratio'),
      ...(Number.isFinite(behind) ? [informs('rise beyond what the wastegate makes', behind, 'ratio')] : []),
    ];
    if (!(high > limit && high > low) || behind < BEHIND * high) return { features };
    if (isStarved(scene, limits) || isDriven(scene, others) || airLost(scene) > LEAKS) return { features };
    const told = Number.isFinite(behind) || (low > GROWS.least * high && low < GROWS.most * high);
    if (!told && low <= GROWS.least * high)
      return { why: 'the rise begins at one engine speed: a wastegate that closes there would look the same' };
    const strength = strengthOf(high / limit, told ? 0.75 : 0.6, told ? 0.95 : 0.7);
    return { windows: [windowOf(scene, scene)], features, strength, stopClass: 1 };
  },
};

/** A wheel that turns faster by more than this share at the same boost is driven harder, not held back: behind a restriction it turns as before or slower [1]. @source signature: common practice, no source; share: our default */
const DRIVEN = 0.015;

/** Air that is lost at every speed asks the turbine for more than it usually has to do [1]. @source our default */
const LEAKS = 0.02;

function isDriven(scene: PullScene, others: readonly PullScene[]): boolean {
  const speedOf = (one: PullScene): Float64Array | undefined => {
    const turbo = sceneTrack(one, 'turbo-speed');
    return turbo && trackBySpeed(one, turbo);
  };
  const here = speedOf(scene);
  const there = others.flatMap((other) => speedOf(other) ?? []);
  return here !== undefined && there.length > 0 && meanRatio(held(here, there)) > DRIVEN;
}

function isStarved(scene: PullScene, limits: Limits): boolean {
  return meanRatio(heldAgainst(scene, limits, { meaning: 'compressor-inlet-pressure', spoiling: SPOILING })) < STARVED;
}

/** Pulls with more pressure in the manifold: with less of it the same exhaust would stand lower. */
function higherPressure(scene: PullScene): readonly PullScene[] {
  const here = pressureBySpeed(scene);
  return besideState(scene, SPOILING).filter((other) => {
    const there = pressureBySpeed(other);
    return here && there && middle(here.map((value, k) => value / there[k])) < 1;
  });
}

/** Middle of the values where the flow is largest. */
function topOf(values: readonly number[]): number {
  return middle(values.slice(Math.floor(values.length * (1 - TOP))));
}

/** Exhaust pressure over what the opening of the wastegate makes, over manifold pressure, where the flow is largest [1]; NaN when nobody knows. */
function aboveGate(scene: PullScene, others: readonly PullScene[]): number {
  const [exhaust, manifold] = [sceneTrack(scene, 'exhaust-pressure'), sceneTrack(scene, 'manifold-pressure')];
  const gate = gatePressure(scene, others);
  if (!gate || !exhaust || !manifold) return Number.NaN;
  const below = trackBySpeed(scene, manifold);
  return topOf(
    [...trackBySpeed(scene, exhaust).map((value, k) => (value - gate[k]) / below[k])].filter(Number.isFinite),
  );
}

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
