import type { Branded } from './branded.ts';

/** Mass [kg]. */
export type Mass = Branded<'mass'>;

/** Mass [kg]. @param value number in kg */
export function mass(value: number): Mass {
  return value as Mass;
}
