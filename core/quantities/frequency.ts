import type { Branded } from './branded.ts';

/** Events per time [Hz]. */
export type Frequency = Branded<'frequency'>;

/** Events per time [Hz]. @param value number in Hz */
export function frequency(value: number): Frequency {
  return value as Frequency;
}
