/** A value with its standard uncertainty, both in the SI unit of the quantity. */
export interface Measured {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** @param value best estimate @param standardUncertainty one standard deviation, ≥ 0, same unit */
export function measured(value: number, standardUncertainty: number): Measured {
  if (!(standardUncertainty >= 0)) throw new RangeError(`standard uncertainty below zero: ${standardUncertainty}`);
  return { value, standardUncertainty };
}
