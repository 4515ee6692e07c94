import type { Measured } from '../../../core/quantities/index.ts';

/** A value with its standard uncertainty; either may be NaN where nothing is known. */
export function around(value: number, standardUncertainty: number): Measured {
  return { value, standardUncertainty };
}
