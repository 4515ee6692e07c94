import { type Length, type Ratio, ratio } from '../../quantities/index.ts';
import { type RollerLimits, type RollerMargin, rollerMargin } from './roller-capability.ts';

/** Engine torque at full load over engine speed, rising speeds, equally long. */
export interface TorqueCurve {
  /** [rad/s] */
  readonly speed: Float64Array;
  /** At the crankshaft [N·m]. */
  readonly torque: Float64Array;
}

export interface GearQuestion {
  readonly curve: TorqueCurve;
  /** Overall ratios, engine over wheel, named. */
  readonly gears: readonly { readonly name: string; readonly ratio: Ratio }[];
  /** Share of the torque that reaches the tyre [1]; default 1: the cautious side for force. */
  readonly efficiency?: Ratio;
  readonly tyreRadius: Length;
  readonly limits: RollerLimits;
  /** Largest surface force that the tyres carry [N]; absent: not asked. */
  readonly traction?: number;
  /** Margin that every limit must keep [1]; default {@link KEPT_MARGIN}. */
  readonly margin?: Ratio;
}

/** @source our default */
export const KEPT_MARGIN = ratio(0.05);

/** force, speed: largest at the roll surface [N, m/s]. traction: limit over force, less 1; undefined when not asked. fits: every margin is kept. */
export interface GearOffer {
  readonly name: string;
  readonly ratio: Ratio;
  readonly force: number;
  readonly speed: number;
  readonly roller: RollerMargin;
  readonly traction: Ratio | undefined;
  readonly fits: boolean;
}

/** best: the fitting gear with the lowest force; undefined when none fits. */
export interface GearChoice {
  readonly offers: readonly GearOffer[];
  readonly best: GearOffer | undefined;
}

/**
 * Which gear to pull in: of those that stay inside roller and traction, the one with the lowest surface force, for slip and tyre heat
 * grow with force.
 *
 *     F = T·i·η/r,   v = ω·r/i
 *
 * @valid   steady torque; what accelerates the rolls is already part of the engine's torque. A gear near direct drive has the least loss
 *          of its own (common practice, no source): between offers of equal force take that one
 * @source  kinematics; choice of the lowest force: our default
 */
export function gearChoice(question: GearQuestion): GearChoice {
  const offers = question.gears.map((gear) => gearOffer(question, gear));
  const fitting = offers.filter(({ fits }) => fits).toSorted((a, b) => a.force - b.force);
  return { offers, best: fitting[0] };
}

function gearOffer(question: GearQuestion, gear: GearQuestion['gears'][number]): GearOffer {
  const { curve, tyreRadius: r, limits, traction, efficiency = 1, margin = KEPT_MARGIN } = question;
  const surface = {
    speed: curve.speed.map((omega) => (omega * r) / gear.ratio),
    force: curve.torque.map((torque) => (torque * gear.ratio * efficiency) / r),
  };
  const roller = rollerMargin(limits, surface);
  const largest = Math.max(...surface.force.filter((F) => !Number.isNaN(F)));
  const grip = traction === undefined ? undefined : ratio(traction / largest - 1);
  const kept = [roller.margins.force, roller.margins.power, roller.margins.speed, grip ?? Number.POSITIVE_INFINITY];
  return {
    name: gear.name,
    ratio: gear.ratio,
    force: largest,
    speed: Math.max(...surface.speed.filter((v) => !Number.isNaN(v))),
    roller,
    traction: grip,
    fits: kept.every((found) => found >= margin),
  };
}
