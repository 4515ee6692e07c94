import type { Branded } from './branded.ts';

/** Energy per mass [J/kg]. */
export type SpecificEnergy = Branded<'specific-energy'>;

/** Energy per mass [J/kg]. @param value number in J/kg */
export function specificEnergy(value: number): SpecificEnergy {
  return value as SpecificEnergy;
}
