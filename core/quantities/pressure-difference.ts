import type { Branded } from './branded.ts';

/** Difference of two pressures [Pa]. */
export type PressureDifference = Branded<'pressure-difference'>;

/** Difference of two pressures [Pa]. @param value number in Pa */
export function pressureDifference(value: number): PressureDifference {
  return value as PressureDifference;
}
