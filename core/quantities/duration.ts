import type { Branded } from './branded.ts';

/** Length of time [s]. */
export type Duration = Branded<'duration'>;

/** Length of time [s]. @param value number in s */
export function duration(value: number): Duration {
  return value as Duration;
}
