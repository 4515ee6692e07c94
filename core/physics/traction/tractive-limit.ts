import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type Force,
  force,
  type Length,
  type Mass,
  type Measured,
  measured,
  type Power,
  power,
  type Speed,
  STANDARD_GRAVITY,
  type Temperature,
  type Torque,
  torque,
} from '../../quantities/index.ts';

/** How the adhesion of a tyre on a roll falls with the temperature of its tread. */
export interface TreadAdhesion {
  /** Up to `knee` [1], with its uncertainty. */
  readonly cold: Measured;
  readonly knee: Temperature;
  /** Loss per kelvin above the knee [1/K], ≥ 0. */
  readonly perKelvin: number;
}

/**
 * Adhesion on steel rolls before anything is measured [1]: hot tyres on twin smooth rolls, and on large knurled or coated ones.
 *
 * Roads give 0.7 … 0.9 dry; rolls are to be measured on the day.
 *
 * @source common practice, no source: 0.5 … 0.7 and 0.7 … 0.9, as limits of an even distribution
 */
export const USUAL_ADHESION: Record<'twin smooth' | 'large knurled', Measured> = {
  'twin smooth': measured(0.6, 0.1 / Math.sqrt(3)),
  'large knurled': measured(0.8, 0.1 / Math.sqrt(3)),
};

/** Adhesion at a tread temperature [1]: μ0 − k·(T − Tknee) above the knee, never below 0. @source straight line; our default shape */
export function adhesionAt({ cold, knee, perKelvin }: TreadAdhesion, tread: Temperature): Measured {
  const value = Math.max(0, cold.value - perKelvin * Math.max(0, tread - knee));
  return measured(value, cold.standardUncertainty);
}

/** Normal load of the driven tyres [N]: m·g + down pull of straps. @param axleMass with ballast on that axle [kg] @source statics */
export function tyreLoad(axleMass: Mass, strapDown: Force): Force {
  return force(axleMass * STANDARD_GRAVITY + strapDown);
}

/** limit: largest driving force of the axle [N]. margin: limit over need, less 1. */
export interface TractionMargin {
  readonly limit: Measured;
  readonly margin: Measured;
  readonly contributions: readonly Contribution[];
}

/**
 * Whether the tyres can carry a driving force.
 *
 *     Fmax = μ·N,   m = Fmax/F − 1
 *
 * @param load N of the driven axle [N] @param adhesion μ [1] @param need driving force [N], > 0
 * @valid   both wheels loaded alike; with an open differential the weaker one decides
 * @source  Coulomb's law; JCGM 100:2008, equation 12
 */
export function tractionMargin(load: Measured, adhesion: Measured, need: Measured): TractionMargin {
  const inputs = [
    { name: 'tyre load', ...load },
    { name: 'adhesion', ...adhesion },
    { name: 'driving force', ...need },
  ];
  const limit = combinedUncertainty({ inputs: inputs.slice(0, 2), model: ([N, mu]) => mu * N });
  const found = combinedUncertainty({ inputs, model: ([N, mu, F]) => (mu * N) / F - 1 });
  return {
    limit: measured(limit.value, limit.standardUncertainty),
    margin: measured(found.value, found.standardUncertainty),
    contributions: found.contributions,
  };
}

/** Force left along the tyre while it also carries one across [N]: √((μN)² − Fy²), NaN beyond. @source friction circle */
export function forceBesideLateral(limit: Force, lateral: Force): Force {
  return force(Math.sqrt(limit * limit - lateral * lateral));
}

/** What an axle at its limit can pass on: wheel torque F·r and power F·v. @source definitions */
export function atTheLimit(
  limit: Force,
  radius: Length,
  surface: Speed,
): { readonly torque: Torque; readonly power: Power } {
  return { torque: torque(limit * radius), power: power(limit * surface) };
}
