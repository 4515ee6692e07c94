import type { Branded } from './branded.ts';

/** Thermodynamic temperature [K]. */
export type Temperature = Branded<'temperature'>;

/** Thermodynamic temperature [K]. @param value number in K */
export function temperature(value: number): Temperature {
  return value as Temperature;
}
