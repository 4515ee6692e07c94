import type { Branded } from './branded.ts';

/** Force [N]. */
export type Force = Branded<'force'>;

/** Force [N]. @param value number in N */
export function force(value: number): Force {
  return value as Force;
}
