import type { Density, Temperature } from '../../quantities/index.ts';

/** Kinematic viscosity [m²/s] at a temperature. */
export interface ViscosityPoint {
  readonly temperature: Temperature;
  readonly kinematic: number;
}

/**
 * Kinematic viscosity of an oil from two known points [m²/s].
 *
 *     log log(ν + 0.7) = A − B·log T        ν in mm²/s, T in K
 *
 * @valid   2 … 2·10⁷ mm²/s, no fuel in the oil: a few percent of fuel take a third of its viscosity (from memory)
 * @source  ASTM D341 (Walther), short form
 */
export function kinematicViscosity(known: readonly [ViscosityPoint, ViscosityPoint], at: Temperature): number {
  const fold = (point: ViscosityPoint): number => Math.log10(Math.log10(point.kinematic * 1e6 + 0.7));
  const [first, second] = known;
  const slope = (fold(second) - fold(first)) / Math.log10(second.temperature / first.temperature);
  const folded = fold(first) + slope * Math.log10(at / first.temperature);
  return (10 ** (10 ** folded) - 0.7) * 1e-6;
}

/** Dynamic viscosity [Pa·s]: ν·ρ. @source definition */
export function dynamicViscosity(kinematic: number, oilDensity: Density): number {
  return kinematic * oilDensity;
}
