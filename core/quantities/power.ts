import type { Branded } from './branded.ts';

/** Work per time [W]. */
export type Power = Branded<'power'>;

/** Work per time [W]. @param value number in W */
export function power(value: number): Power {
  return value as Power;
}
