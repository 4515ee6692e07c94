import type { Branded } from './branded.ts';

/** Rate of change of a speed [m/s²]. */
export type Acceleration = Branded<'acceleration'>;

/** Rate of change of a speed [m/s²]. @param value number in m/s² */
export function acceleration(value: number): Acceleration {
  return value as Acceleration;
}
