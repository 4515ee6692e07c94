import {
  type Density,
  density,
  type Ratio,
  ratio,
  type SpecificEnergy,
  specificEnergy,
} from '../../../quantities/index.ts';
import type { SpeciesName } from './nasa-polynomials.ts';
import { MOLAR_GAS_CONSTANT, speciesEnthalpy, speciesNamed } from './species.ts';

/** Which laminar flame speed law belongs to a fuel; see burn/flame-speed.ts. */
export type FlameName = 'petrol' | 'isooctane' | 'ethanol' | 'methanol' | 'methane' | 'propane';

/** A share by mass of a named part. */
export interface Part<Name> {
  readonly name: Name;
  readonly share: number;
}

/**
 * A fuel CxHyOz. Only the ratios of the three numbers of atoms count.
 *
 * `octane` is what the knock law asks for; (RON + MON)/2 is our default. Gases have a latent heat of nought.
 */
export interface Fuel {
  readonly name: string;
  readonly carbon: number;
  readonly hydrogen: number;
  readonly oxygen: number;
  /** Lower heating value of the fuel as it is supplied [J/kg]. */
  readonly heatingValue: SpecificEnergy;
  /** Heat of vaporisation [J/kg]. */
  readonly latentHeat: SpecificEnergy;
  /** Density as supplied [kg/m³], for blending by volume. */
  readonly density: Density;
  readonly octane: Ratio;
  /** Whose heat capacity per kilogram the vapour has; shares by mass, adding up to 1. */
  readonly vapour: readonly Part<SpeciesName>[];
  readonly flame: readonly Part<FlameName>[];
}

const ATOMIC_MASS = { carbon: 12.011e-3, hydrogen: 1.008e-3, oxygen: 15.999e-3 } as const;

/** Moles of oxygen molecules, and of "atmospheric nitrogen", in air. @source Heywood, Internal Combustion Engine Fundamentals (1988), ch. 3 (from memory): O₂ + 3.773 N₂ with argon in it */
export const AIR = { nitrogen: 3.7284, argon: 0.0446 } as const;

/** Mass of air per mole of oxygen in it [kg/mol]. */
export const AIR_PER_OXYGEN =
  speciesNamed('O2').molarMass + AIR.nitrogen * speciesNamed('N2').molarMass + AIR.argon * speciesNamed('Ar').molarMass;

/** Atoms of C, H, O in one kilogram of fuel [mol/kg]. */
export function fuelAtoms(fuel: Fuel): { readonly carbon: number; readonly hydrogen: number; readonly oxygen: number } {
  const { carbon, hydrogen, oxygen } = fuel;
  const mass = carbon * ATOMIC_MASS.carbon + hydrogen * ATOMIC_MASS.hydrogen + oxygen * ATOMIC_MASS.oxygen;
  return { carbon: carbon / mass, hydrogen: hydrogen / mass, oxygen: oxygen / mass };
}

/**
 * Stoichiometric air/fuel mass ratio [1]: (x + y/4 − z/2)·(air per oxygen)/(mass of CxHyOz).
 *
 * @source  atom balance to CO₂ and H₂O; air as in {@link AIR}
 */
export function stoichiometricRatio(fuel: Fuel): Ratio {
  const atoms = fuelAtoms(fuel);
  return ratio((atoms.carbon + atoms.hydrogen / 4 - atoms.oxygen / 2) * AIR_PER_OXYGEN);
}

/** Enthalpies of formation at 298.15 K [J/mol], from the same polynomials as the burned gas. */
const REFERENCE_TEMPERATURE = 298.15;
const CARBON_DIOXIDE = speciesEnthalpy(speciesNamed('CO2'), REFERENCE_TEMPERATURE);
const WATER_VAPOUR = speciesEnthalpy(speciesNamed('H2O'), REFERENCE_TEMPERATURE);

/**
 * Enthalpy of formation of the fuel as supplied, at 298.15 K [J/kg]: that of its products plus the heating value.
 *
 * @source  definition of the lower heating value: products CO₂ and water vapour at 298.15 K
 */
export function formationEnthalpy(fuel: Fuel): SpecificEnergy {
  const { carbon, hydrogen } = fuelAtoms(fuel);
  return specificEnergy(carbon * CARBON_DIOXIDE + (hydrogen / 2) * WATER_VAPOUR + fuel.heatingValue);
}

/** Lower heating value of a fuel whose formation enthalpy as supplied is known [J/kg]. @source as {@link formationEnthalpy} */
export function heatingValueFromFormation(
  fuel: Pick<Fuel, 'carbon' | 'hydrogen' | 'oxygen'>,
  formation: { readonly perMole: number },
): SpecificEnergy {
  const { carbon, hydrogen, oxygen } = fuel;
  const mass = carbon * ATOMIC_MASS.carbon + hydrogen * ATOMIC_MASS.hydrogen + oxygen * ATOMIC_MASS.oxygen;
  return specificEnergy((formation.perMole - carbon * CARBON_DIOXIDE - (hydrogen / 2) * WATER_VAPOUR) / mass);
}

/** Polynomial of the vapour per kilogram, as in gas/equilibrium.ts: low seven, high seven; anchored to the heating value. */
export function vapourPolynomial(fuel: Fuel): Float64Array {
  const sum = new Float64Array(14);
  let enthalpy = 0;
  for (const { name, share } of fuel.vapour) {
    const species = speciesNamed(name);
    const n = share / species.molarMass;
    for (let k = 0; k < 7; k++) {
      sum[k] += n * species.low[k];
      sum[7 + k] += n * species.high[k];
    }
    enthalpy += n * speciesEnthalpy(species, REFERENCE_TEMPERATURE);
  }
  const shift = (formationEnthalpy(fuel) + fuel.latentHeat - enthalpy) / MOLAR_GAS_CONSTANT;
  sum[5] += shift;
  sum[12] += shift;
  return sum;
}

/** Moles of vapour in one kilogram of fuel, after its composition and the molar mass of its vapour model [mol/kg]. */
export function vapourAmount(fuel: Fuel): number {
  let sum = 0;
  for (const { name, share } of fuel.vapour) sum += share / speciesNamed(name).molarMass;
  return sum;
}

export interface BlendPart {
  readonly fuel: Fuel;
  /** Share of the volume before mixing; all shares are brought to a sum of 1. */
  readonly volume: number;
}

/**
 * A blend by volume. Atoms, heating value and latent heat go by mass; octane goes by moles.
 *
 * @source  mass balance; octane by moles: common practice, no source (nearer than by volume for alcohols in petrol)
 */
export function blendedFuel(name: string, parts: readonly BlendPart[]): Fuel {
  const masses = parts.map(({ fuel, volume }) => volume * fuel.density);
  const mass = masses.reduce((sum, part) => sum + part, 0);
  const volume = parts.reduce((sum, part) => sum + part.volume, 0);
  const shares = masses.map((part) => part / mass);
  const moles = parts.map(({ fuel }, i) => shares[i] * vapourAmount(fuel));
  const amount = moles.reduce((sum, part) => sum + part, 0);
  const byMass = (of: (fuel: Fuel) => number): number =>
    parts.reduce((sum, { fuel }, i) => sum + shares[i] * of(fuel), 0);
  return {
    name,
    carbon: byMass((fuel) => fuelAtoms(fuel).carbon),
    hydrogen: byMass((fuel) => fuelAtoms(fuel).hydrogen),
    oxygen: byMass((fuel) => fuelAtoms(fuel).oxygen),
    heatingValue: specificEnergy(byMass((fuel) => fuel.heatingValue)),
    latentHeat: specificEnergy(byMass((fuel) => fuel.latentHeat)),
    density: density(mass / volume),
    octane: ratio(parts.reduce((sum, { fuel }, i) => sum + (moles[i] / amount) * fuel.octane, 0)),
    vapour: parts.flatMap(({ fuel }, i) => fuel.vapour.map((part) => ({ ...part, share: part.share * shares[i] }))),
    flame: parts.flatMap(({ fuel }, i) => fuel.flame.map((part) => ({ ...part, share: part.share * shares[i] }))),
  };
}
