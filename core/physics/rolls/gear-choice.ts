import { type Length, type Ratio, ratio } from '../../quantities/index.ts';
import { type RollerLimits, type RollerMargin, rollerMargin, type SurfaceCurve } from './roller-capability.ts';

/** Engine torque at full load over engine speed, rising speeds, equally long. */
export interface TorqueCurve {
  /** [rad/s] */
  readonly speed: Float64Array;
  /** At the crankshaft [N·m]. */
  readonly torque: Float64Array;
}

/** What stands between crankshaft and roll: i, engine over wheel; η, share of the torque that reaches the tyre, default 1; r, tyre radius. */
export interface Gearing {
  readonly ratio: Ratio;
  readonly efficiency?: Ratio;
  readonly tyreRadius: Length;
}

/**
 * Surface force [N] over surface speed [m/s] in one gear, as long as `curve`.
 *
 *     F = T·i·η/r,   v = ω·r/i
 *
 * @valid   steady speed, no slip; losses that do not go with torque left out, so the force is rather too large
 * @source  kinematics and statics
 */
export function surfaceCurve(
  curve: TorqueCurve,
  { ratio: i, efficiency = ratio(1), tyreRadius: r }: Gearing,
): SurfaceCurve {
  return {
    speed: curve.speed.map((omega) => (omega * r) / i),
    force: curve.torque.map((torque) => (torque * i * efficiency) / r),
  };
}

export interface GearQuestion {
  /** Overall ratio, engine over wheel, and what the engine does at the roll surface in that gear. */
  readonly gears: readonly { readonly name: string; readonly ratio: Ratio; readonly surface: SurfaceCurve }[];
  readonly limits: RollerLimits;
  /** Largest surface force that the tyres carry [N]; absent: not asked. */
  readonly traction?: number;
  /** Margin that every limit of the roller must keep [1]; default {@link KEPT_MARGIN}. */
  readonly margin?: Ratio;
  /** Margin that the tyres must keep [1]; default that of the roller. */
  readonly tractionMargin?: Ratio;
}

/** @source our default */
export const KEPT_MARGIN = ratio(0.05);

/** force, power, speed: largest at the roll surface [N, W, m/s]. traction: limit over force, less 1; undefined when not asked. fits: every margin is kept. */
export interface GearOffer {
  readonly name: string;
  readonly ratio: Ratio;
  readonly force: number;
  readonly power: number;
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
 * @valid   steady torque; what accelerates the rolls is already part of the engine's torque. A gear near direct drive has the least loss
 *          of its own (common practice, no source): between offers of equal force take that one
 * @source  choice of the lowest force: our default
 */
export function gearChoice(question: GearQuestion): GearChoice {
  const offers = question.gears.map((gear) => gearOffer(question, gear));
  const fitting = offers.filter(({ fits }) => fits).toSorted((a, b) => a.force - b.force);
  return { offers, best: fitting[0] };
}

function gearOffer(question: GearQuestion, { name, ratio: i, surface }: GearQuestion['gears'][number]): GearOffer {
  const { limits, traction, margin = KEPT_MARGIN, tractionMargin = margin } = question;
  const roller = rollerMargin(limits, surface);
  const force = largest(surface.force);
  const grip = traction === undefined ? undefined : ratio(traction / force - 1);
  const { margins } = roller;
  const holds = [margins.force, margins.power, margins.speed].every((found) => found >= margin);
  return {
    ...{ name, ratio: i, force, roller, traction: grip },
    power: largest(surface.force.map((F, k) => F * surface.speed[k])),
    speed: largest(surface.speed),
    fits: holds && (grip === undefined || grip >= tractionMargin),
  };
}

/** Missing values left out; −∞ when none is left. */
function largest(values: Float64Array): number {
  return Math.max(...values.filter((value) => !Number.isNaN(value)));
}
