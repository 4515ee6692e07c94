import { MOLAR_GAS_CONSTANT, RANGE_BORDER } from './species.ts';

/** Enthalpy [J/kg] from a polynomial of a mixture (14 coefficients in mol/kg, low range first). @source NASA TM-4513, as gas/species.ts */
export function polynomialEnthalpy(a: Float64Array, T: number): number {
  const o = T > RANGE_BORDER ? 7 : 0;
  const powers = a[o + 1] / 2 + T * (a[o + 2] / 3 + T * (a[o + 3] / 4 + (T * a[o + 4]) / 5));
  return MOLAR_GAS_CONSTANT * (a[o + 5] + T * (a[o] + T * powers));
}

/** Heat capacity at constant pressure [J/(kg·K)]. @source as {@link polynomialEnthalpy} */
export function polynomialHeatCapacity(a: Float64Array, T: number): number {
  const o = T > RANGE_BORDER ? 7 : 0;
  return MOLAR_GAS_CONSTANT * (a[o] + T * (a[o + 1] + T * (a[o + 2] + T * (a[o + 3] + T * a[o + 4]))));
}
