import type { Branded } from './branded.ts';

/** Speed of rotation [rad/s]. */
export type AngularSpeed = Branded<'angular-speed'>;

/** Speed of rotation [rad/s]. @param value number in rad/s */
export function angularSpeed(value: number): AngularSpeed {
  return value as AngularSpeed;
}
