import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  absolutePressure,
  type Density,
  type MassFlow,
  type Measured,
  measured,
  type PressureDifference,
  type Ratio,
  ratio,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';
import { AIR } from './compression.ts';
import { effectiveness, type FlowArrangement } from './effectiveness.ts';
import { dryAirDensity } from './pressure-loss.ts';

/** Charge before a cooler and what the cooler does to it. */
export interface CooledCharge {
  readonly inletTemperature: Temperature;
  readonly inletPressure: AbsolutePressure;
  /** Of the cooling air or water where it meets the core [K]. */
  readonly coolantTemperature: Temperature;
  /** (T2 − T3)/(T2 − Tcoolant) on the charge side [1]. */
  readonly effectiveness: Ratio;
  readonly loss: PressureDifference;
}

export interface ChargeState {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly density: Density;
}

/** Charge after the cooler: T3 = T2 − ε·(T2 − Tc), p3 = p2 − Δp. @source definition of effectiveness */
export function cooledCharge(charge: CooledCharge): ChargeState {
  const { inletTemperature: T2, coolantTemperature: Tc } = charge;
  const T3 = temperature(T2 - charge.effectiveness * (T2 - Tc));
  const pressure = absolutePressure(charge.inletPressure - charge.loss);
  return { temperature: T3, pressure, density: dryAirDensity(pressure, T3) };
}

/**
 * Effectiveness on the charge side from three readings [1].
 *
 * NaN where the charge is not warmer than the coolant.
 *
 * @valid   steady; in a pull sensor lag and the heat stored in the core make it look better than it is
 * @source  definition
 */
export function coolerEffectiveness(reading: {
  readonly inletTemperature: Temperature;
  readonly outletTemperature: Temperature;
  readonly coolantTemperature: Temperature;
}): Ratio {
  const { inletTemperature: T2, outletTemperature: T3, coolantTemperature: Tc } = reading;
  return ratio(T2 > Tc ? (T2 - T3) / (T2 - Tc) : Number.NaN);
}

/** The same from measured temperatures, independent, with the share of each. @source JCGM 100:2008, equation 10 */
export function measuredEffectiveness(reading: {
  readonly inletTemperature: Measured;
  readonly outletTemperature: Measured;
  readonly coolantTemperature: Measured;
}): { readonly effectiveness: Measured; readonly contributions: readonly Contribution[] } {
  const found = combinedUncertainty({
    inputs: [
      { name: 'inlet temperature', ...reading.inletTemperature },
      { name: 'outlet temperature', ...reading.outletTemperature },
      { name: 'coolant temperature', ...reading.coolantTemperature },
    ],
    model: ([inlet, outlet, coolant]) => (inlet - outlet) / (inlet - coolant),
  });
  return { effectiveness: measured(found.value, found.standardUncertainty), contributions: found.contributions };
}

export interface CoolerCore {
  readonly arrangement: FlowArrangement;
  /** Overall conductance UA [W/K]. */
  readonly conductance: number;
  readonly chargeFlow: MassFlow;
  /** Capacity flow of the coolant ṁ·c [W/K]. */
  readonly coolantCapacity: number;
  /** Heat capacity of the charge [J/(kg·K)]; default air. */
  readonly heatCapacity?: number;
}

/**
 * Effectiveness seen from the charge [1]: ε·Cmin/Ccharge.
 *
 * With little coolant the charge is no longer the smaller stream, and even a large core cannot cool it.
 *
 * @valid   UA constant; it grows with both flows, so carry a core only near the flow at which it was measured
 * @source  as {@link effectiveness}
 */
export function chargeSideEffectiveness(core: CoolerCore): Ratio {
  const charge = core.chargeFlow * (core.heatCapacity ?? AIR.heatCapacity);
  const smaller = Math.min(charge, core.coolantCapacity);
  const capacityRatio = ratio(smaller / Math.max(charge, core.coolantCapacity));
  const units = core.conductance / smaller;
  return ratio((effectiveness({ arrangement: core.arrangement, units, capacityRatio }) * smaller) / charge);
}
