import type { Branded } from './branded.ts';

/** Moment of inertia about a shaft [kg·m²]. */
export type Inertia = Branded<'inertia'>;

/** Moment of inertia about a shaft [kg·m²]. @param value number in kg·m² */
export function inertia(value: number): Inertia {
  return value as Inertia;
}
