import {
  type AbsolutePressure,
  CELSIUS_ZERO,
  type Length,
  type Ratio,
  ratio,
  STANDARD_ATMOSPHERE,
  type Temperature,
  type Voltage,
  voltage,
} from '../../quantities/index.ts';

/** A gas gap just before it breaks down. */
export interface GasGap {
  readonly gap: Length;
  readonly pressure: AbsolutePressure;
  readonly temperature: Temperature;
}

/** Air constants of Townsend's form. A [1/(Pa·m)], B [V/(Pa·m)], γ [1]: electrons freed per ion at the cathode, poorly known. */
export const PASCHEN_AIR = { A: 11.25, B: 273.75, gamma: 0.01 } as const;

/**
 * Breakdown voltage after Paschen and Townsend [V].
 *
 *     V = B·pd/(ln(A·pd) − ln ln(1 + 1/γ)),   p referred to 20 °C
 *
 * @valid   pd 0.1 … 130 kPa·cm, even field; NaN left of the pole. Reads too high at engine densities, and its minimum (305 V) is not
 *          the measured one (327 V at 0.76 kPa·mm)
 * @source  Lieberman & Lichtenberg, Principles of Plasma Discharges, 14.3 (from memory); constants as three public pages quote them
 */
export function paschenVoltage(gasGap: GasGap, constants = PASCHEN_AIR): Voltage {
  const { A, B, gamma } = constants;
  const pd = gasGap.pressure * (REFERENCE_TEMPERATURE / gasGap.temperature) * gasGap.gap;
  const below = Math.log(A * pd) - Math.log(Math.log(1 + 1 / gamma));
  return voltage(below > 0 ? (B * pd) / below : Number.NaN);
}

/** Smallest breakdown voltage of that curve [V], and the pd at which it lies [Pa·m]. @source zero of the derivative, closed form */
export function paschenMinimum({ A, B, gamma } = PASCHEN_AIR): {
  readonly voltage: Voltage;
  readonly pressureGap: number;
} {
  const inner = Math.log(1 + 1 / gamma);
  return { voltage: voltage((Math.E * B * inner) / A), pressureGap: (Math.E * inner) / A };
}

/**
 * Breakdown voltage of air in an even field [V].
 *
 *     V[kV] = 6.72·√(pd) + 24.36·pd        pd in bar·cm, p referred to 20 °C
 *
 * @valid   pd 0.01 … 30 bar·cm, smooth electrodes wide beside the gap; within 3 % of sphere-gap tables there
 * @source  Kuffel, Zaengl & Kuffel, High Voltage Engineering, 5.8 (from memory); held against sphere-gap tables
 */
export function evenFieldVoltage({ gap, pressure, temperature }: GasGap): Voltage {
  const pd = pressure * (REFERENCE_TEMPERATURE / temperature) * gap * 1e-3;
  return voltage(6720 * Math.sqrt(pd) + 24360 * pd);
}

/**
 * The same with relative density [V]: 24.22·δd + 6.08·√(δd), d in cm, kV.
 *
 * @source  Kuffel & Abdullah, High Voltage Engineering (from memory)
 */
export function evenFieldVoltageOfDensity(gap: Length, relativeDensity: Ratio): Voltage {
  const product = relativeDensity * gap * 100;
  return voltage(24220 * product + 6080 * Math.sqrt(product));
}

/** Density over that at 20 °C and 101.325 kPa [1]: δ = p/p0·293/T. @source IEC 60052 (not seen; as public pages quote it) */
export function relativeDensity(pressure: AbsolutePressure, T: Temperature): Ratio {
  return ratio((pressure / STANDARD_ATMOSPHERE) * (293 / T));
}

/** 20 °C, the reference of the tables [K]. */
const REFERENCE_TEMPERATURE = CELSIUS_ZERO + 20;
