import type { Branded } from './branded.ts';

/** Rate of change of a speed of rotation [rad/s²]. */
export type AngularAcceleration = Branded<'angular-acceleration'>;

/** Rate of change of a speed of rotation [rad/s²]. @param value number in rad/s² */
export function angularAcceleration(value: number): AngularAcceleration {
  return value as AngularAcceleration;
}
