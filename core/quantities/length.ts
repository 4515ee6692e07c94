import type { Branded } from './branded.ts';

/** Length [m]. */
export type Length = Branded<'length'>;

/** Length [m]. @param value number in m */
export function length(value: number): Length {
  return value as Length;
}
