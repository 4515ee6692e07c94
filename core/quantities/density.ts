import type { Branded } from './branded.ts';

/** Mass per volume [kg/m³]. */
export type Density = Branded<'density'>;

/** Mass per volume [kg/m³]. @param value number in kg/m³ */
export function density(value: number): Density {
  return value as Density;
}
