import type { Branded } from './branded.ts';

/** Electric potential difference [V]. */
export type Voltage = Branded<'voltage'>;

/** Electric potential difference [V]. @param value number in V */
export function voltage(value: number): Voltage {
  return value as Voltage;
}
