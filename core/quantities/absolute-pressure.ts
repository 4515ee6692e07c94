import type { Branded } from './branded.ts';

/** Pressure above vacuum [Pa]. */
export type AbsolutePressure = Branded<'absolute-pressure'>;

/** Pressure above vacuum [Pa]. @param value number in Pa */
export function absolutePressure(value: number): AbsolutePressure {
  return value as AbsolutePressure;
}
