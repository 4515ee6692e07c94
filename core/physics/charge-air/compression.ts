import {
  type MassFlow,
  type Power,
  power,
  type Ratio,
  ratio,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';

/** Perfect gas: heat capacity at constant pressure [J/(kg·K)] and ratio of specific heats [1]. */
export interface PerfectGas {
  readonly heatCapacity: number;
  readonly heatRatio: number;
}

/** Air near room temperature. @source common textbook values, such as Çengel & Boles, table A-2 (from memory) */
export const AIR: PerfectGas = { heatCapacity: 1005, heatRatio: 1.4 };

/**
 * Exhaust gas of a spark-ignition engine before a turbine, 900 … 1 300 K.
 *
 * @source common practice in turbocharger matching, Watson & Janota, Turbocharging the Internal Combustion Engine (from memory)
 */
export const EXHAUST: PerfectGas = { heatCapacity: 1150, heatRatio: 1.33 };

export interface Compression {
  readonly inletTemperature: Temperature;
  /** Outlet over inlet, both absolute and stagnation [1], ≥ 1. */
  readonly pressureRatio: Ratio;
  /** Isentropic efficiency, total to total [1], 0 … 1. */
  readonly efficiency: Ratio;
  /** Default {@link AIR}. */
  readonly gas?: PerfectGas;
}

/**
 * Temperature after the compressor [K].
 *
 *     T2 = T1·(1 + (π^((k−1)/k) − 1)/η)
 *
 * @valid   perfect gas, no heat exchanged with the housing; a hot housing makes it too low at small flow
 * @source  isentropic relations; definition of isentropic efficiency
 */
export function compressorOutletTemperature(input: Compression): Temperature {
  const { inletTemperature: T1, efficiency } = input;
  return temperature(T1 * (1 + isentropicRise(input.pressureRatio, input.gas ?? AIR) / efficiency));
}

/** Shaft power taken up by the gas [W]: ṁ·cp·(T2 − T1). @source first law, adiabatic */
export function compressorPower(flow: MassFlow, input: Compression): Power {
  const { heatCapacity } = input.gas ?? AIR;
  return power(flow * heatCapacity * (compressorOutletTemperature(input) - input.inletTemperature));
}

export interface CompressionReading {
  readonly inletTemperature: Temperature;
  readonly outletTemperature: Temperature;
  readonly pressureRatio: Ratio;
  readonly gas?: PerfectGas;
}

/**
 * Isentropic efficiency from two temperatures [1]: η = T1·(π^((k−1)/k) − 1)/(T2 − T1).
 *
 * @valid   NaN where the gas is not warmer after than before; sensors warmed by the housing make it too low
 * @source  definition
 */
export function compressorEfficiency(input: CompressionReading): Ratio {
  const { inletTemperature: T1, outletTemperature: T2 } = input;
  return ratio(T2 > T1 ? (T1 * isentropicRise(input.pressureRatio, input.gas ?? AIR)) / (T2 - T1) : Number.NaN);
}

/**
 * Isentropic efficiency of a compression in many small steps of equal efficiency [1].
 *
 *     η = (π^((k−1)/k) − 1)/(π^((k−1)/(k·ηp)) − 1)
 *
 * @param polytropic ηp [1], 0 … 1
 * @source  Dixon & Hall, Fluid Mechanics and Thermodynamics of Turbomachinery, ch. 1 (from memory)
 */
export function efficiencyOfPolytropic(polytropic: Ratio, pressureRatio: Ratio, gas: PerfectGas = AIR): Ratio {
  const exponent = (gas.heatRatio - 1) / gas.heatRatio;
  return ratio((pressureRatio ** exponent - 1) / (pressureRatio ** (exponent / polytropic) - 1));
}

/** Relative temperature rise of an ideal compression [1]: π^((k−1)/k) − 1. @source isentropic relations */
export function isentropicRise(pressureRatio: Ratio, gas: PerfectGas): number {
  return pressureRatio ** ((gas.heatRatio - 1) / gas.heatRatio) - 1;
}
