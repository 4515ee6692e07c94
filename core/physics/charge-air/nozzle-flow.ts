import {
  type AbsolutePressure,
  type Area,
  type MassFlow,
  massFlow,
  type Ratio,
  ratio,
  type Temperature,
} from '../../quantities/index.ts';
import { DRY_AIR_GAS_CONSTANT } from '../air/density.ts';

/** Static over stagnation pressure at which a nozzle just chokes [1]: (2/(k+1))^(k/(k−1)). @source one-dimensional gas dynamics */
export function criticalPressureRatio(heatRatio: number): Ratio {
  return ratio((2 / (heatRatio + 1)) ** (heatRatio / (heatRatio - 1)));
}

/**
 * Mass-flow function of a nozzle, ṁ·√(R·T0)/(A·p0) [1].
 *
 *     Ψ = π^(1/k)·√(2k/(k−1)·(1 − π^((k−1)/k))),   π limited to the critical ratio from below
 *
 * @param pressureRatio downstream static over upstream stagnation pressure π [1]; zero flow at 1, NaN above
 * @source  one-dimensional isentropic flow; Heywood, Internal Combustion Engine Fundamentals, appendix C (from memory)
 */
export function massFlowFunction(pressureRatio: Ratio, heatRatio: number): number {
  const k = heatRatio;
  const x = Math.max(pressureRatio, criticalPressureRatio(k));
  return x ** (1 / k) * Math.sqrt(((2 * k) / (k - 1)) * (1 - x ** ((k - 1) / k)));
}

export interface Nozzle {
  /** Discharge coefficient times area [m²]. */
  readonly effectiveArea: Area;
  readonly upstreamPressure: AbsolutePressure;
  readonly upstreamTemperature: Temperature;
  readonly downstreamPressure: AbsolutePressure;
  /** Ratio of specific heats; default 1.4. */
  readonly heatRatio?: number;
  /** Gas constant [J/(kg·K)]; default dry air. */
  readonly gasConstant?: number;
}

/**
 * Mass flow through a nozzle or an orifice [kg/s].
 *
 *     ṁ = Cd·A·p0/√(R·T0)·Ψ(p/p0, k)
 *
 * @valid   steady, from rest upstream; NaN for reverse flow
 * @source  as {@link massFlowFunction}
 */
export function nozzleFlow(nozzle: Nozzle): MassFlow {
  const { effectiveArea, upstreamPressure, upstreamTemperature, downstreamPressure } = nozzle;
  const psi = massFlowFunction(ratio(downstreamPressure / upstreamPressure), nozzle.heatRatio ?? 1.4);
  const R = nozzle.gasConstant ?? DRY_AIR_GAS_CONSTANT;
  return massFlow(((effectiveArea * upstreamPressure) / Math.sqrt(R * upstreamTemperature)) * psi);
}

/** static over stagnation pressure and temperature, area over throat area [1]. */
export interface IsentropicState {
  readonly pressureRatio: Ratio;
  readonly temperatureRatio: Ratio;
  readonly areaRatio: Ratio;
}

/** Isentropic flow at a Mach number. @param mach M, > 0 @source one-dimensional gas dynamics; NACA Report 1135 tabulates it */
export function isentropicState(mach: number, heatRatio: number): IsentropicState {
  const k = heatRatio;
  const t = 1 / (1 + ((k - 1) / 2) * mach * mach);
  const area = (2 / ((k + 1) * t)) ** ((k + 1) / (2 * (k - 1))) / mach;
  return { temperatureRatio: ratio(t), pressureRatio: ratio(t ** (k / (k - 1))), areaRatio: ratio(area) };
}
