import type { Branded } from './branded.ts';

/** Ratio of two like quantities: 0.05 is five percent [1]. */
export type Ratio = Branded<'ratio'>;

/** Ratio of two like quantities: 0.05 is five percent [1]. @param value number in 1 */
export function ratio(value: number): Ratio {
  return value as Ratio;
}
