import type { Branded } from './branded.ts';

/** Angle, of a crank or a camshaft too [rad]. */
export type Angle = Branded<'angle'>;

/** Angle, of a crank or a camshaft too [rad]. @param value number in rad */
export function angle(value: number): Angle {
  return value as Angle;
}
