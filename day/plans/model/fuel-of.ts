import {
  DIESEL,
  ethanolBlend,
  type Fuel,
  LPG,
  METHANE,
  METHANOL,
  ownFuel,
  petrol,
  stoichiometricRatio,
} from '../../../core/physics/index.ts';
import { density, ratio, specificEnergy } from '../../../core/quantities/index.ts';
import type { DayFacts, FuelName } from '../../pulls/index.ts';

/** Which fuel: one of the names, or atoms such as `C7H13.2O0.1`, which go before. */
export interface FuelChoice {
  readonly name?: FuelName | undefined;
  readonly composition?: string | undefined;
}

/** Numbers of the fuel that a person stated or that are usual. */
export interface FuelNumbers {
  /** Research octane number [1]. */
  readonly octane: number;
  /** Ethanol by volume [1]; NaN: not stated. */
  readonly ethanolShare: number;
  /** Mass of air per mass of fuel at lambda 1; NaN: not stated. */
  readonly stoichiometricRatio: number;
  /** Lower, of a fuel by composition [J/kg]; NaN: not stated. */
  readonly heatingValue: number;
}

/** The fuel that the cycle model burns; without a name petrol. */
export function fuelOf({ name, composition }: FuelChoice, numbers: FuelNumbers): Fuel {
  const own = composition === undefined ? undefined : fuelByAtoms(composition, numbers);
  if (own) return own;
  const { ethanolShare: share } = numbers;
  const base = petrol(Math.min(105, Math.max(80, numbers.octane)));
  switch (name) {
    case 'methanol':
      return METHANOL;
    case 'methane':
      return METHANE;
    case 'LPG':
      return LPG;
    case 'diesel':
      return DIESEL;
    case 'ethanol blend':
      return ethanolBlend(Number.isFinite(share) ? share : shareOfRatio(numbers.stoichiometricRatio), petrol(95));
    default:
      return share > 0 ? ethanolBlend(share, base) : base;
  }
}

/** Ethanol by volume from the air need that was stated [1]: 14.6 of petrol, 9.0 of ethanol, near enough linear; 0.7 without one. @source atom balance of the two fuels; 0.7: our default */
function shareOfRatio(stoichiometric: number): number {
  if (!Number.isFinite(stoichiometric)) return 0.7;
  return Math.min(1, Math.max(0, (14.6 - stoichiometric) / (14.6 - 9.0)));
}

/** Heat that a kilogram of air can burn [J/kg]. @source 2.9 … 3.0 MJ/kg for all usual fuels: common practice, no source */
const HEAT_PER_AIR = 2.95e6;
/** Latent heat of a fuel without oxygen, and of ethanol with its share of oxygen by mass. @source as petrol and ethanol in the list of fuels */
const LATENT = { none: 349e3, ethanol: 921e3, oxygenOfEthanol: 0.3473 } as const;

/** A fuel by its atoms; undefined where they cannot be read. */
function fuelByAtoms(composition: string, numbers: FuelNumbers): Fuel | undefined {
  const atoms = atomsOf(composition);
  if (!atoms) return undefined;
  const { carbon, hydrogen, oxygen } = atoms;
  const alcohol = (15.999 * oxygen) / (12.011 * carbon + 1.008 * hydrogen + 15.999 * oxygen) / LATENT.oxygenOfEthanol;
  const base = {
    ...{ name: composition, ...atoms, density: density(745), octane: ratio(numbers.octane - 5) },
    latentHeat: specificEnergy(LATENT.none + (LATENT.ethanol - LATENT.none) * Math.min(1.3, alcohol)),
  };
  const need = stoichiometricRatio(ownFuel({ ...base, heatingValue: specificEnergy(0) }));
  const stated = numbers.heatingValue;
  return ownFuel({ ...base, heatingValue: specificEnergy(Number.isFinite(stated) ? stated : HEAT_PER_AIR * need) });
}

/** Atoms of `C7H13.2O0.1`: carbon and hydrogen above nought, oxygen or none; undefined for anything else. */
function atomsOf(text: string): Pick<Fuel, 'carbon' | 'hydrogen' | 'oxygen'> | undefined {
  const match = /^C(\d*\.?\d*)H(\d*\.?\d*)(?:O(\d*\.?\d*))?$/u.exec(text.replaceAll(/\s/gu, ''));
  if (!match) return undefined;
  const count = (written: string | undefined, none: number): number =>
    written === undefined ? none : written === '' ? 1 : Number(written);
  const atoms = { carbon: count(match[1], 0), hydrogen: count(match[2], 0), oxygen: count(match[3], 0) };
  const burns = atoms.carbon > 0 && atoms.hydrogen > 0 && atoms.oxygen < 2 * atoms.carbon + atoms.hydrogen / 2;
  return burns && Number.isFinite(atoms.oxygen) ? atoms : undefined;
}

/** Air need by which a fuel that nobody named is told [kg/kg], rising. @source atom balances: methanol 6.5, ethanol 9.0, petrol 14.6, propane 15.6, methane 17.2; middles between them: our default */
const BY_RATIO: readonly (readonly [FuelName, number])[] = [
  ['methanol', 7.5],
  ['ethanol blend', 14.2],
  ['petrol', 15.1],
  ['LPG', 16.4],
  ['methane', 18],
];

/** Does the charge light itself by compression: as stated, else by the fuel. */
export function isCompressionIgnition({ engine, parts = {} }: DayFacts): boolean {
  return engine.ignition === 'compression' || (engine.ignition === undefined && parts.fuel === 'diesel');
}

/** What is burnt by the facts of a day. */
export function fuelChoice(facts: DayFacts): FuelChoice {
  return { name: fuelName(facts), composition: facts.parts?.fuelComposition };
}

/** Which fuel is burnt: as named, else by the stated need of air; undefined where neither tells. */
export function fuelName(facts: DayFacts): FuelName | undefined {
  const named = facts.parts?.fuel;
  if (named !== undefined) return named;
  if (isCompressionIgnition(facts)) return 'diesel';
  const need = facts.engine.stoichiometricRatio?.value;
  if (need === undefined) return undefined;
  return BY_RATIO.find(([, below]) => need < below)?.[0];
}

/** Stated and own need of air that differ by more than this belong to two fuels [1]. @source our default */
const SAME_FUEL = 0.06;

/** What must be known of the fuel that was taken. */
export function fuelWords(facts: DayFacts, fuel: Fuel): readonly string[] {
  const composition = facts.parts?.fuelComposition;
  if (composition !== undefined && !atomsOf(composition))
    return [
      `fuel composition: "${composition}" could not be read, expected such as C7H13.2O0.1; ${fuel.name} is taken`,
    ];
  const need = facts.engine.stoichiometricRatio?.value;
  const own = stoichiometricRatio(fuel);
  const named = facts.parts?.fuel;
  const away = need === undefined ? 0 : Math.abs(need / own - 1);
  if (named === undefined && composition === undefined) {
    const taken = fuelName(facts) ?? 'petrol';
    const by = need === undefined || away > SAME_FUEL ? '' : `, by its need of air of ${need}`;
    return [`fuel not stated: ${taken} is taken${by}`];
  }
  if (away <= SAME_FUEL) return [];
  return [
    `fuel: a need of air of ${need} does not belong to ${composition ?? named}, ${own.toFixed(1)} does: the fuel counts`,
  ];
}
