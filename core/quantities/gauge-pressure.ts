import type { Branded } from './branded.ts';

/** Pressure above the surrounding air [Pa]. */
export type GaugePressure = Branded<'gauge-pressure'>;

/** Pressure above the surrounding air [Pa]. @param value number in Pa */
export function gaugePressure(value: number): GaugePressure {
  return value as GaugePressure;
}
