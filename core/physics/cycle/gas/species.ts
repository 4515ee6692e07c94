import { NASA_SPECIES, type NasaSpecies, type SpeciesName } from './nasa-polynomials.ts';

/** Molar gas constant [J/(mol·K)]. @source SI brochure, 9th edition: k·N_A, exact */
export const MOLAR_GAS_CONSTANT = 8.31446261815324;

/** Temperature at which the two ranges of every polynomial meet [K]. @source NASA TM-4513 */
export const RANGE_BORDER = 1000;

/**
 * Molar heat capacity of an ideal gas at constant pressure [J/(mol·K)].
 *
 *     cp/R = a₁ + a₂T + a₃T² + a₄T³ + a₅T⁴
 *
 * @param T  temperature [K]
 * @valid   200 … 6000 K
 * @source  NASA TM-4513
 */
export function speciesHeatCapacity(species: NasaSpecies, T: number): number {
  const a = T > RANGE_BORDER ? species.high : species.low;
  return MOLAR_GAS_CONSTANT * (a[0] + T * (a[1] + T * (a[2] + T * (a[3] + T * a[4]))));
}

/**
 * Molar enthalpy with the enthalpy of formation at 298.15 K in it [J/mol].
 *
 *     h/(R·T) = a₁ + a₂T/2 + a₃T²/3 + a₄T³/4 + a₅T⁴/5 + a₆/T
 *
 * @valid   200 … 6000 K
 * @source  NASA TM-4513
 */
export function speciesEnthalpy(species: NasaSpecies, T: number): number {
  const a = T > RANGE_BORDER ? species.high : species.low;
  return MOLAR_GAS_CONSTANT * (a[5] + T * (a[0] + T * (a[1] / 2 + T * (a[2] / 3 + T * (a[3] / 4 + (T * a[4]) / 5)))));
}

/**
 * Molar entropy at the reference pressure of 1 bar [J/(mol·K)].
 *
 *     s°/R = a₁·ln T + a₂T + a₃T²/2 + a₄T³/3 + a₅T⁴/4 + a₇
 *
 * @valid   200 … 6000 K
 * @source  NASA TM-4513
 */
export function speciesEntropy(species: NasaSpecies, T: number): number {
  const a = T > RANGE_BORDER ? species.high : species.low;
  const rest = a[6] + T * (a[1] + T * (a[2] / 2 + T * (a[3] / 3 + (T * a[4]) / 4)));
  return MOLAR_GAS_CONSTANT * (a[0] * Math.log(T) + rest);
}

/** A species of the table by its name. */
export function speciesNamed(name: SpeciesName): NasaSpecies {
  return NASA_SPECIES[name];
}
