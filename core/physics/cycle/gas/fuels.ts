import { density, ratio, specificEnergy } from '../../../quantities/index.ts';
import { blendedFuel, type Fuel } from './fuel.ts';

/** Hydrocarbon mixture CH₁.₈₇. @source ratio: Heywood (1988) appendix D (from memory); heating value, latent heat: US DOE Alternative Fuels Data Center table, 18676 and 150 Btu/lb; density: middle of its range */
const PETROL = {
  carbon: 1,
  hydrogen: 1.87,
  oxygen: 0,
  heatingValue: specificEnergy(43.44e6),
  latentHeat: specificEnergy(349e3),
  density: density(745),
  vapour: [
    { name: 'isooctane', share: 0.65 },
    { name: 'toluene', share: 0.35 },
  ],
  flame: [{ name: 'petrol', share: 1 }],
} as const satisfies Omit<Fuel, 'name' | 'octane'>;

/** Petrol of a research octane number; (RON + MON)/2 stands 5 below it. @param research RON [1], 80 … 105 @source common practice: sensitivity near 10 */
export function petrol(research: number): Fuel {
  return { name: `petrol ${research}`, ...PETROL, octane: ratio(research - 5) };
}

/** @source AFDC table: 11585 and 396 Btu/lb, 6.61 lb/gal; octane RON 109, MON 90: common practice, no source */
export const ETHANOL: Fuel = {
  name: 'ethanol',
  carbon: 2,
  hydrogen: 6,
  oxygen: 1,
  heatingValue: specificEnergy(26.947e6),
  latentHeat: specificEnergy(921e3),
  density: density(794),
  octane: ratio(99.5),
  vapour: [{ name: 'ethanol', share: 1 }],
  flame: [{ name: 'ethanol', share: 1 }],
};

/** @source AFDC table: 8637 and 506 Btu/lb, 6.63 lb/gal; octane RON 109, MON 89: common practice, no source */
export const METHANOL: Fuel = {
  name: 'methanol',
  carbon: 1,
  hydrogen: 4,
  oxygen: 1,
  heatingValue: specificEnergy(20.09e6),
  latentHeat: specificEnergy(1177e3),
  density: density(795),
  octane: ratio(99),
  vapour: [{ name: 'methanol', share: 1 }],
  flame: [{ name: 'methanol', share: 1 }],
};

/** @source lower heating value 50.0 MJ/kg: textbook value, from memory; octane 120: common practice, no source; density at 15 °C, 1 atm */
export const METHANE: Fuel = {
  name: 'methane',
  carbon: 1,
  hydrogen: 4,
  oxygen: 0,
  heatingValue: specificEnergy(50.0e6),
  latentHeat: specificEnergy(0),
  density: density(0.68),
  octane: ratio(120),
  vapour: [{ name: 'methane', share: 1 }],
  flame: [{ name: 'methane', share: 1 }],
};

/**
 * Liquefied petroleum gas taken as propane. Its vapour takes the heat capacity per kilogram of octane, within 3 % of propane's
 * and below 0.3 % of the charge's.
 *
 * @source  lower heating value 46.35 MJ/kg, octane RON 112, MON 97, latent heat 426 kJ/kg: textbook values, from memory
 */
export const LPG: Fuel = {
  name: 'LPG',
  carbon: 3,
  hydrogen: 8,
  oxygen: 0,
  heatingValue: specificEnergy(46.35e6),
  latentHeat: specificEnergy(426e3),
  density: density(508),
  octane: ratio(104.5),
  vapour: [{ name: 'nOctane', share: 1 }],
  flame: [{ name: 'propane', share: 1 }],
};

/**
 * Diesel fuel CH₁.₈, taken as a vapour of octane. It has no octane number of use: the knock law is not for it.
 *
 * @source  lower heating value 42.8 MJ/kg, latent heat 250 kJ/kg, 835 kg/m³, ratio: Heywood (1988) appendix D, from memory
 */
export const DIESEL: Fuel = {
  name: 'diesel',
  carbon: 1,
  hydrogen: 1.8,
  oxygen: 0,
  heatingValue: specificEnergy(42.8e6),
  latentHeat: specificEnergy(250e3),
  density: density(835),
  octane: ratio(80),
  vapour: [{ name: 'nOctane', share: 1 }],
  flame: [{ name: 'petrol', share: 1 }],
};

/** Ethanol in petrol by volume. @param share of ethanol in the volume, 0 … 1 @param base the petrol */
export function ethanolBlend(share: number, base: Fuel = petrol(95)): Fuel {
  return blendedFuel(`ethanol ${Math.round(100 * share)} %`, [
    { fuel: ETHANOL, volume: share },
    { fuel: base, volume: 1 - share },
  ]);
}

/** What a user knows of an own fuel. */
export type OwnFuel = Omit<Fuel, 'vapour' | 'flame'>;

/**
 * A fuel by composition. Vapour and flame follow isooctane and, by the oxygen in it, ethanol.
 *
 * @valid   close to petrols and alcohols; the vapour's share in the charge is 4 … 15 %, so its heat capacity matters little
 * @source  our default
 */
export function ownFuel(given: OwnFuel): Fuel {
  const oxygen = (15.999 * given.oxygen) / (12.011 * given.carbon + 1.008 * given.hydrogen + 15.999 * given.oxygen);
  const alcohol = Math.min(1, oxygen / 0.3473);
  return {
    ...given,
    vapour: [
      { name: 'isooctane', share: 1 - alcohol },
      { name: 'ethanol', share: alcohol },
    ],
    flame: [
      { name: 'isooctane', share: 1 - alcohol },
      { name: 'ethanol', share: alcohol },
    ],
  };
}
