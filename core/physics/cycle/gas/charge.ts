import type { Atoms } from './equilibrium.ts';
import {
  AIR,
  AIR_PER_OXYGEN,
  type Fuel,
  fuelAtoms,
  stoichiometricRatio,
  vapourAmount,
  vapourPolynomial,
} from './fuel.ts';
import { speciesNamed } from './species.ts';

/** What the fresh charge is made of: λ [1] over dry air, and water per dry air by mass [kg/kg]. */
export interface Mixture {
  readonly lambda: number;
  readonly humidityRatio: number;
}

/** Shares by mass of dry air, water vapour and fuel in the fresh charge, adding up to 1. */
export interface ChargeShares {
  readonly air: number;
  readonly water: number;
  readonly fuel: number;
}

/** Shares of the fresh charge. @source definition of λ */
export function chargeShares(fuel: Fuel, { lambda, humidityRatio }: Mixture): ChargeShares {
  const fuelPerAir = 1 / (lambda * stoichiometricRatio(fuel));
  const whole = 1 + humidityRatio + fuelPerAir;
  return { air: 1 / whole, water: humidityRatio / whole, fuel: fuelPerAir / whole };
}

/** Atoms in one kilogram of charge [mol/kg]; the same before and after burning. @source atom balance */
export function chargeAtoms(fuel: Fuel, mixture: Mixture): Atoms {
  return sharesAtoms(fuel, chargeShares(fuel, mixture));
}

/** As {@link chargeAtoms}, from shares by mass. */
export function sharesAtoms(fuel: Fuel, shares: ChargeShares): Atoms {
  const oxygen = shares.air / AIR_PER_OXYGEN;
  const water = shares.water / speciesNamed('H2O').molarMass;
  const ofFuel = fuelAtoms(fuel);
  return {
    carbon: shares.fuel * ofFuel.carbon,
    hydrogen: shares.fuel * ofFuel.hydrogen + 2 * water,
    oxygen: shares.fuel * ofFuel.oxygen + 2 * oxygen + water,
    nitrogen: 2 * AIR.nitrogen * oxygen,
    argon: AIR.argon * oxygen,
  };
}

/** Polynomials per kilogram of each part of the fresh charge, prepared once per fuel. */
export interface ChargeParts {
  readonly air: Float64Array;
  readonly water: Float64Array;
  readonly fuel: Float64Array;
  /** Moles per kilogram of each part, in the same order. */
  readonly amounts: { readonly air: number; readonly water: number; readonly fuel: number };
}

/** @source mixture of ideal gases with the polynomials of NASA TM-4513 */
export function chargeParts(fuel: Fuel): ChargeParts {
  const water = speciesNamed('H2O');
  const air = new Float64Array(14);
  const inAir = [
    [speciesNamed('O2'), 1],
    [speciesNamed('N2'), AIR.nitrogen],
    [speciesNamed('Ar'), AIR.argon],
  ] as const;
  for (const [species, moles] of inAir) addInto(air, species, moles / AIR_PER_OXYGEN);
  const vapour = new Float64Array(14);
  addInto(vapour, water, 1 / water.molarMass);
  return {
    air,
    water: vapour,
    fuel: vapourPolynomial(fuel),
    amounts: {
      air: (1 + AIR.nitrogen + AIR.argon) / AIR_PER_OXYGEN,
      water: 1 / water.molarMass,
      fuel: vapourAmount(fuel),
    },
  };
}

function addInto(
  sum: Float64Array,
  species: { readonly low: readonly number[]; readonly high: readonly number[] },
  moles: number,
): void {
  for (let k = 0; k < 7; k++) {
    sum[k] += moles * species.low[k];
    sum[7 + k] += moles * species.high[k];
  }
}
