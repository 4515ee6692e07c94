import { combinedUncertainty } from '../../../core/numerics/index.ts';
import {
  addedLoad,
  ballastFor,
  KEPT_TRACTION,
  type Strap,
  strapHold,
  strapPull,
  strapReserve,
  tensionForDownforce,
} from '../../../core/physics/index.ts';
import { angle, force, type Measured, measured, ratio } from '../../../core/quantities/index.ts';
import type { Foresight } from '../limits/foresight.ts';
import { type TyreContact, tyreContact } from '../limits/kinds/traction.ts';
import { type Ledger, ledgerOf } from '../limits/ledger.ts';
import { RESTS_ON } from '../limits/rests-on.ts';
import { judgedSpeeds, usualSpeeds } from '../limits/speeds.ts';
import type { Step } from '../model/engine-model.ts';
import { isForetold, withDriving } from './driving.ts';

/**
 * What would make the tyres hold in a step. All SI.
 *
 * kept: share of the tractive limit kept in hand [1]. speed: where the tyres are asked most [rad/s], there `driving` against `limit` [N].
 * missing: load to be added with even odds [N], below zero to spare; safe: so much that it holds nineteen times of twenty.
 * most: load that may sensibly be added [N]; stated: somebody stated it, else the axle's own load once again.
 * ballast: mass over the driven axle in place of straps [kg]. largestRatio: overall ratio that holds with nothing added; undefined where it is unknown.
 * lossless: no coast-down told the losses; without them the force is rather too large. why: it cannot be told, with `missing` naming the fact. assumed: usual values that it rests on.
 */
export type TractionAdvice =
  | {
      readonly kind: 'holds' | 'load' | 'too much';
      readonly kept: number;
      readonly speed: number;
      readonly driving: Measured;
      readonly limit: Measured;
      readonly contact: TyreContact;
      readonly missing: Measured;
      readonly safe: number;
      readonly most: { readonly load: number; readonly stated: boolean };
      readonly straps: StrapAdvice | undefined;
      readonly ballast: Measured;
      readonly safeBallast: number;
      readonly largestRatio: number | undefined;
      readonly lossless: boolean;
      readonly unknown: readonly string[];
      readonly assumed: readonly string[];
    }
  | {
      readonly kind: 'unknown';
      readonly why: string;
      readonly unknown: readonly string[];
      readonly assumed: readonly string[];
    };

/**
 * One of `count` like straps, at `angle` below the horizontal [rad]; forces [N]: tension now, as wanted with even odds, and so that it holds nineteen times of twenty; Infinity where they lie flat.
 * rearward: pull of all of them at the wanted tension; underDrive: each while the tyres push, with the other end strapped alike; both
 * undefined where nobody stated how they lead in plan. reserve: rating over the larger of wanted and underDrive [1].
 */
export interface StrapAdvice {
  readonly count: number;
  readonly angle: number;
  readonly now: Measured;
  readonly wanted: Measured;
  readonly safe: number;
  readonly rearward: number | undefined;
  readonly underDrive: number | undefined;
  readonly rating: number | undefined;
  readonly reserve: number | undefined;
}

/** Standard uncertainties to the side that hold nineteen times of twenty. @source normal distribution, one-sided 95 % */
const NINETEEN_OF_TWENTY = 1.645;

/** Reserve that a strap or anchor should have [1]. @source common practice, no source; the rating plate decides */
export const WANTED_RESERVE = 2;

/**
 * Load, as straps or ballast, that makes the driven tyres hold in a step with a share of the limit in hand.
 *
 *     ΔN = F/((1 − k)·μ) − N0,   each of n straps at α below the horizontal: T = N/(n·sin α),   ballast ΔN/g
 *
 * No sensible load does it where it is more than the axle may carry; where nobody stated that, more than the axle's own load again (our default).
 * A ratio that holds by itself: i·(1 − k)·Fmax/F, a little too small, as losses do not fall with it.
 *
 * @param kept share k [1], 0 … 0.5; default {@link KEPT_TRACTION}
 * @valid   as {@link addedLoad}; straps alike, their pull the same in the pull as stated
 * @source  Coulomb's law, statics; JCGM 100:2008, equation 12
 */
export function tractionAdvice(foresight: Foresight, step: Step, kept: number = KEPT_TRACTION): TractionAdvice {
  const { model, predict } = withDriving(foresight);
  const ledger = ledgerOf(model);
  const contact = tyreContact(ledger, step);
  const speeds = usualSpeeds(model);
  const prediction = predict(step, speeds);
  const judged = judgedSpeeds(model, step, speeds);
  const { value, standardUncertainty } = prediction.lines['wheel force'];
  const forces = [...value].map((F, i) => (judged[i] && F > 0 ? F : 0));
  const worst = forces.indexOf(Math.max(0, ...forces));
  const assumed = (): readonly string[] => [
    ...new Set([...ledger.assumed, ...RESTS_ON.traction.filter((name) => prediction.assumed.includes(name))]),
  ];
  if (!contact) {
    return { kind: 'unknown', why: 'axle load unknown: state axleLoad', unknown: ledger.missing, assumed: assumed() };
  }
  if (!(forces[worst] > 0)) {
    ledger.need('overallRatio');
    const why = 'driving force unknown: state overallRatio and tyreRadius';
    return { kind: 'unknown', why, unknown: ledger.missing, assumed: assumed() };
  }
  const driving = measured(forces[worst], Math.max(standardUncertainty[worst] || 0, 0));
  const missing = addedLoad({ need: driving, adhesion: contact.grip, load: contact.load, kept: ratio(kept) }).load;
  const safe = Math.max(0, missing.value + NINETEEN_OF_TWENTY * missing.standardUncertainty);
  const most = mostLoad(ledger, contact);
  const straps = strapAdvice({ ledger, contact, missing }, driving.value);
  const { limit } = contact;
  const gear = step.overallRatio ?? ledger.look('overallRatio')?.value;
  return {
    kind: missing.value <= 0 ? 'holds' : missing.value > most.load ? 'too much' : 'load',
    ...{ kept, speed: speeds[worst], driving, limit, contact, missing, safe, most, straps },
    ballast: measured(ballastFor(Math.max(0, missing.value)), ballastFor(missing.standardUncertainty)),
    safeBallast: ballastFor(safe),
    largestRatio: gear === undefined ? undefined : (gear * (1 - kept) * limit.value) / driving.value,
    lossless: !isForetold(foresight.predict(step, speeds)),
    unknown: ledger.missing,
    assumed: assumed(),
  };
}

function mostLoad(ledger: Ledger, { axle, load }: TyreContact): { readonly load: number; readonly stated: boolean } {
  const stated = ledger.need('axleLoadLimit');
  return { load: Math.max(0, (stated?.value ?? 2 * axle.value) - load.value), stated: stated !== undefined };
}

interface Wanted {
  readonly ledger: Ledger;
  readonly contact: TyreContact;
  readonly missing: Measured;
}

function strapAdvice({ ledger, contact, missing }: Wanted, drive: number): StrapAdvice | undefined {
  const count = ledger.need('strapCount')?.value;
  const down = ledger.need('strapAngle');
  const plan = ledger.need('strapPlanAngle');
  const rating = ledger.need('strapRating')?.value;
  if (count === undefined || !down) return undefined;
  const { straps } = contact;
  const now = tensionOf(straps, down, count);
  // what is wanted in all is F/((1 − k)·μ) less weight and ballast: the spread of the straps as they are falls out
  const spread = Math.sqrt(Math.max(0, missing.standardUncertainty ** 2 - straps.standardUncertainty ** 2));
  const pull = measured(straps.value + missing.value, spread);
  const wanted = missing.value > 0 ? tensionOf(pull, down, count) : now;
  const surely = tensionOf(measured(Math.max(0, pull.value + NINETEEN_OF_TWENTY * spread), 0), down, count).value;
  const lead = plan && hold({ tension: wanted.value, down: down.value, plan: plan.value, count }, drive);
  const largest = Math.max(wanted.value, lead?.underDrive ?? 0);
  return {
    ...{ count, angle: down.value, now, wanted, rating },
    safe: Math.max(now.value, surely),
    rearward: lead?.rearward,
    underDrive: lead?.underDrive,
    reserve: rating === undefined || !(largest > 0) ? undefined : strapReserve(force(rating), force(largest)),
  };
}

/** Tension of each of several like straps that pull down together [N]. */
function tensionOf(pull: Measured, down: Measured, count: number): Measured {
  const each = ([N, alpha]: readonly number[]): number =>
    tensionForDownforce(force(N), { down: angle(alpha), plan: angle(0) }, count);
  const value = each([pull.value, down.value]);
  if (!Number.isFinite(value)) return measured(value, 0);
  const inputs = [
    { name: 'pull', ...pull },
    { name: 'angle', ...down },
  ];
  return measured(value, combinedUncertainty({ inputs, model: each }).standardUncertainty);
}

interface Lashing {
  readonly tension: number;
  readonly down: number;
  readonly plan: number;
  readonly count: number;
}

/** Straps left and right in turn, the other end strapped alike. */
function hold({ tension, down, plan, count }: Lashing, drive: number) {
  if (!Number.isFinite(tension)) return undefined;
  const straps = (turn: number): Strap[] =>
    Array.from({ length: count }, (_, i) => ({
      tension: force(tension),
      down: angle(down),
      plan: angle(turn + (i % 2 === 0 ? plan : -plan)),
    }));
  const rear = straps(0);
  const { loadedTension } = strapHold({ rear, front: straps(Math.PI) }, force(drive));
  return { rearward: strapPull(rear).rearward, underDrive: Math.max(...loadedTension) };
}
