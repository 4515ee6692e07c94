import type { Branded } from './branded.ts';

/** Volume [m³]. */
export type Volume = Branded<'volume'>;

/** Volume [m³]. @param value number in m³ */
export function volume(value: number): Volume {
  return value as Volume;
}
