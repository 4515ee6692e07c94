import type { Branded } from './branded.ts';

/** Moment of a force about a shaft [N·m]. */
export type Torque = Branded<'torque'>;

/** Moment of a force about a shaft [N·m]. @param value number in N·m */
export function torque(value: number): Torque {
  return value as Torque;
}
