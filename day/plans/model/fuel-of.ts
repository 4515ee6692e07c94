import {
  DIESEL,
  ethanolBlend,
  type Fuel,
  LPG,
  METHANE,
  METHANOL,
  petrol,
  stoichiometricRatio,
} from '../../../core/physics/index.ts';
import type { DayFacts, FuelName } from '../../pulls/index.ts';

/** Numbers of the fuel that a person stated or that are usual. */
export interface FuelNumbers {
  /** Research octane number [1]. */
  readonly octane: number;
  /** Ethanol by volume [1]; NaN: not stated. */
  readonly ethanolShare: number;
  /** Mass of air per mass of fuel at lambda 1; NaN: not stated. */
  readonly stoichiometricRatio: number;
}

/** The fuel that the cycle model burns. @param name undefined: petrol */
export function fuelOf(name: FuelName | undefined, numbers: FuelNumbers): Fuel {
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
  const need = facts.engine.stoichiometricRatio?.value;
  const own = stoichiometricRatio(fuel);
  const named = facts.parts?.fuel;
  const away = need === undefined ? 0 : Math.abs(need / own - 1);
  if (named === undefined) {
    const taken = fuelName(facts) ?? 'petrol';
    const by = need === undefined || away > SAME_FUEL ? '' : `, by its need of air of ${need}`;
    return [`fuel not stated: ${taken} is taken${by}`];
  }
  if (away <= SAME_FUEL) return [];
  return [`fuel: a need of air of ${need} does not belong to ${named}, ${own.toFixed(1)} does: the fuel counts`];
}
