import { against, type Detector, type Feature, informs, type Seen, strengthOf, windowOf } from '../../detector.ts';
import { closingDuty } from '../../evidence/boost.ts';
import { type BySpeed, SPEED_STEP, trackFromTipIn } from '../../evidence/by-speed.ts';
import { airLost } from '../../evidence/compressor.ts';
import { STARVED } from '../../evidence/inlet.ts';
import {
  equalPressure,
  type Held,
  heldAgainst,
  held as heldOf,
  meanDifference,
  meanRatio,
  nearPressure,
} from '../../evidence/references.ts';
import { expectedTurbo } from '../../evidence/turbine.ts';
import type { Fault } from '../../fault.ts';
import { type PullScene, sceneTrack, speedAt } from '../../scene/scene.ts';
import { largest, middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';
import { readsWrong } from '../sensors/wrong-scale.ts';

/** Pulls with these say nothing about how hard the turbocharger usually works. */
const SPOILING: readonly Fault[] = ['boost-leak', 'exhaust-restriction', 'charge-heat-soak', 'surge', 'wrong-scale'];

/** A second sign counts from this share of its limit. @source our default */
const PARTLY = 0.4;
/** A leak makes the wheel turn faster, a hindered turbine does not: slower than usual beyond repeatability, and surely faster [1]. @source our default */
const SLOWER = -0.0012;
const FASTER = 0.003;
/** Duty alone must be so many times its limit where the pressure is not reached any more. @source our default */
const STRAINED = 1.5;
/** Air that leaks out is lost at every speed: what grows from less than this share with the flow is the turbocharger's or the exhaust's [1]. @source our default */
const AT_LOW = 0.3;
/** What leaks is lost while boost builds up, too: it comes later, so much less pressure at equal speed; and duty changes at low speeds as at high ones, by this share at least [1]. @source later spool: common practice, no source; shares: our default */
const LATER = -0.02;
const EVEN = 0.8;
/** Where the pressure is not reached any more it lacks more while boost builds up than afterwards, by this factor. @source our default: a hole loses the same flow when the engine takes little */
const LATER_THAN_TOP = 1.5;
/** Boost builds up below this share of what the other pulls reach [1]. @source our default */
const BUILDING = 0.9;
/** The fire itself moves duty: richer by this [lambda], earlier by this [rad]. @source our default */
const FIRE = { richer: 0.03, earlier: (3 * Math.PI) / 180 } as const;

/**
 * Boost leak: the same manifold pressure takes more wastegate work, and a faster wheel, than in the day's other pulls. Duty or turbo speed must be
 * beyond its limit and what else is logged must agree: where the wheel does not turn faster the turbine is hindered, where the inlet pressure has
 * fallen the filter is.
 *
 * @source limits: common practice, no source
 */
export const boostLeak: Detector = {
  fault: 'boost-leak',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['charge-heat-soak', 'exhaust-restriction', 'boost-droop', 'compressor-choke'],
  look: (scene, limits) => {
    const signs = signsOf(scene, limits);
    if (!Number.isFinite(signs.duty) && !Number.isFinite(signs.turbo)) {
      if (signs.lost > GROSS) return grossLeak(scene, signs.lost);
      const missing = (['wastegate-duty', 'turbo-speed'] as const).filter((meaning) => !sceneTrack(scene, meaning));
      return { why: 'no other pull at the same manifold pressure that logs wastegate duty or turbo speed', missing };
    }
    const features = featuresOf(signs, limits);
    const strength = leakStrength(signs, limits);
    if (strength === undefined) return { features };
    if (Number.isNaN(signs.turbo) && otherFire(scene, limits))
      return {
        why: 'the wastegate works harder, but mixture or timing changed too: turbo speed would part them',
        missing: ['turbo-speed'],
      };
    return { windows: [windowOf(scene, scene)], features, strength, stopClass: 1 };
  },
};

/** Wheel speed that makes up for lost air counts from this on; and so much where the pressure is far from what it was [1]. @source our default */
const LOST = 0.008;
const GROSS = 0.03;

/** A leak that keeps the pressure far from every other pull's. */
function grossLeak(scene: PullScene, lost: number): Seen {
  return {
    windows: [windowOf(scene, scene)],
    features: [informs('wheel faster than its pressure asks for', lost, 'fraction')],
    strength: strengthOf(lost / GROSS, 0.72, 0.9),
    stopClass: 1,
  };
}

/** Against the day's other pulls at equal pressure; NaN where not logged. duty: towards closing; short: the pressure is not reached any more. */
interface Signs {
  readonly duty: number;
  readonly turbo: number;
  readonly heat: number;
  readonly inlet: number;
  /** Change of duty at low speeds over that at high ones [1]. */
  readonly low: number;
  /** Pressure while boost builds up over the usual one at equal speed, less 1. */
  readonly building: number;
  /** The same once boost is there. */
  readonly top: number;
  /** Wheel speed beyond what the pressure asks for, at every speed. */
  readonly lost: number;
  readonly short: boolean;
}

function signsOf(scene: PullScene, limits: Limits): Signs {
  const held = (meaning: Parameters<typeof heldAgainst>[2]['meaning']) =>
    heldAgainst(scene, limits, { meaning, spoiling: SPOILING });
  const work = held('wastegate-duty');
  const duty = meanDifference(work);
  const outlet = meanDifference(held('compressor-outlet-temperature'));
  const closing = closingDuty(scene);
  const pressures = pressureRatios(held('manifold-pressure'));
  return {
    duty: closing === 0 ? Math.abs(duty) : closing * duty,
    // A speed that is off before the load as well is no work of a leak.
    turbo: readsWrong(scene, limits, 'turbo-speed')
      ? Number.NaN
      : (1 + meanRatio(held('turbo-speed'))) / expectedTurbo(scene, limits, SPOILING) - 1,
    heat: Number.isFinite(outlet) ? outlet : meanDifference(held('charge-temperature')),
    inlet: meanRatio(held('compressor-inlet-pressure')),
    low: lowShare(work),
    ...pressures,
    lost: readsWrong(scene, limits, 'turbo-speed') ? 0 : airLost(scene),
    building: Number.isFinite(pressures.building) ? pressures.building : buildingAtOnce(scene, limits),
    short: equalPressure(scene, limits, SPOILING).length === 0,
  };
}

/** @source our default: the second fifth of the speeds, after boost has built up, over the last two */
function lowShare(work: Held | undefined): number {
  const changes = work?.here.map((value, i) => value - work.there[i]) ?? [];
  const between = (from: number, to: number): number =>
    middle(changes.slice(Math.floor(from * changes.length), Math.ceil(to * changes.length)));
  return between(0.2, 0.45) / between(0.6, 1);
}

function pressureRatios(pressure: Held | undefined): Pick<Signs, 'building' | 'top'> {
  const full = largest(pressure?.there ?? []);
  const ratioWhere = (holds: (there: number) => boolean): number =>
    middle(
      pressure?.here.map((value, i) => (holds(pressure.there[i]) ? value / pressure.there[i] - 1 : Number.NaN)) ?? [],
    );
  return {
    building: ratioWhere((there) => there < BUILDING * full),
    top: ratioWhere((there) => there >= BUILDING * full),
  };
}

/** The same while boost builds up right after tip-in, against pulls that began at the same engine speed; NaN where there are none. */
function buildingAtOnce(scene: PullScene, limits: Limits): number {
  const pressureOf = (one: PullScene): readonly BySpeed[] => {
    const track = sceneTrack(one, 'manifold-pressure');
    return track ? [trackFromTipIn(one, track)] : [];
  };
  const [here] = pressureOf(scene);
  const began = speedAt(scene, scene.from);
  const others = nearPressure(scene, limits, SPOILING).filter(
    (other) => Math.abs(speedAt(other, other.from) - began) < SPEED_STEP / 2,
  );
  return here ? pressureRatios(heldOf(here, others.flatMap(pressureOf))).building : Number.NaN;
}

/** True when a richer mixture or an earlier spark gives the turbine less to work with than in the other pulls. */
function otherFire(scene: PullScene, limits: Limits): boolean {
  const [mixture, timing] = (['lambda', 'ignition-timing'] as const).map((meaning) =>
    meanDifference(heldAgainst(scene, limits, { meaning, spoiling: SPOILING })),
  );
  return mixture < -FIRE.richer || timing > FIRE.earlier;
}

function featuresOf({ duty, turbo, heat, building, low }: Signs, limits: Limits): readonly Feature[] {
  return [
    against(limits, 'boost-leak.duty', duty),
    against(limits, 'boost-leak.turbo', turbo),
    against(limits, 'boost-leak.temperature', heat),
    informs('pressure while boost builds up', building, 'fraction'),
    informs('change of duty at low speeds over that at high ones', low, 'ratio'),
  ].filter(({ value }) => Number.isFinite(value));
}

/** How surely the signs are a leak's; undefined when they are not. */
function leakStrength(signs: Signs, limits: Limits): number | undefined {
  const duty = signs.duty / limits['boost-leak.duty'].value;
  const turbo = signs.turbo / limits['boost-leak.turbo'].value;
  const heat = signs.heat / limits['boost-leak.temperature'].value;
  if (signs.inlet < STARVED) return undefined;
  if (signs.lost > GROSS && signs.short) return strengthOf(signs.lost / GROSS, 0.72, 0.9);
  if (signs.low < AT_LOW) return undefined;
  if (turbo * limits['boost-leak.turbo'].value < SLOWER) return undefined;
  const sure = Number.isFinite(signs.inlet) ? 0.05 : 0;
  const faster = turbo * limits['boost-leak.turbo'].value > FASTER;
  // Boost that comes later and duty that is higher at all speeds alike: nothing else does both.
  const alike = signs.short ? signs.building < LATER_THAN_TOP * signs.top : signs.low > EVEN;
  const plain = signs.building < LATER && alike && (faster || Number.isNaN(turbo));
  if (plain && duty > 1) return strengthOf(duty, (faster ? 0.75 : 0.72) + sure);
  // Without duty a wheel that does more at every speed, and brings boost later, tells alone.
  if (Number.isNaN(duty) && signs.lost > LOST && signs.building < LATER && faster)
    return strengthOf(signs.lost / LOST, 0.65 + sure, 0.85);
  // Where the pressure is no longer reached and no wheel speed is logged, the work of the wastegate speaks alone.
  if (signs.short && Number.isNaN(turbo)) return duty > STRAINED ? strengthOf(duty, 0.4, 0.6) : undefined;
  if (signs.short) return faster && duty > 1 ? strengthOf(duty, 0.5, 0.65) : undefined;
  // What grows with the flow may as well be a filter that nobody measures behind.
  if (duty > 1 && signs.low < EVEN && Number.isNaN(signs.inlet)) return strengthOf(duty, 0.45, 0.55);
  if (duty > 1 && turbo > 1) return strengthOf(Math.max(duty, turbo), 0.75 + sure);
  if (duty > 1 && Number.isNaN(turbo)) return strengthOf(duty, 0.5, 0.6);
  if (duty > 1) return faster ? strengthOf(duty, 0.65 + sure, 0.85) : strengthOf(duty, 0.5, 0.6);
  if (turbo > 1 && (duty > PARTLY || heat > PARTLY)) return strengthOf(turbo, 0.6 + sure, 0.85);
  return undefined;
}
