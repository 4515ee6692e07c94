import type { Branded } from './branded.ts';

/** Electric current [A]. */
export type Current = Branded<'current'>;

/** Electric current [A]. @param value number in A */
export function current(value: number): Current {
  return value as Current;
}
