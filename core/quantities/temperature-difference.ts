import type { Branded } from './branded.ts';

/** Difference of two temperatures [K]. */
export type TemperatureDifference = Branded<'temperature-difference'>;

/** Difference of two temperatures [K]. @param value number in K */
export function temperatureDifference(value: number): TemperatureDifference {
  return value as TemperatureDifference;
}
