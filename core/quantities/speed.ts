import type { Branded } from './branded.ts';

/** Speed along a surface or a road [m/s]. */
export type Speed = Branded<'speed'>;

/** Speed along a surface or a road [m/s]. @param value number in m/s */
export function speed(value: number): Speed {
  return value as Speed;
}
