import type { Branded } from './branded.ts';

/** Work or heat [J]. */
export type Energy = Branded<'energy'>;

/** Work or heat [J]. @param value number in J */
export function energy(value: number): Energy {
  return value as Energy;
}
