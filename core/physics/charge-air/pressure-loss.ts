import {
  type AbsolutePressure,
  type Density,
  density,
  type MassFlow,
  type PressureDifference,
  pressureDifference,
  type Temperature,
} from '../../quantities/index.ts';
import { DRY_AIR_GAS_CONSTANT } from '../air/density.ts';

/** Pressure lost in a part at one known state. */
export interface KnownLoss {
  readonly drop: PressureDifference;
  readonly flow: MassFlow;
  /** Of the gas in the part at that flow [kg/m³], > 0. */
  readonly density: Density;
}

/**
 * Pressure lost in the same part at another state [Pa].
 *
 *     Δp = Δp0·(ṁ/ṁ0)²·ρ0/ρ
 *
 * @valid   turbulent flow, Mach number below about 0.3; narrow cooler passages and dry filters follow a power nearer 1.7
 * @source  loss coefficient on dynamic pressure: Idelchik, Handbook of Hydraulic Resistance (from memory)
 */
export function pressureLoss(known: KnownLoss, flow: MassFlow, gasDensity: Density): PressureDifference {
  return pressureDifference((known.drop * (flow / known.flow) ** 2 * known.density) / gasDensity);
}

/** Density of dry air [kg/m³]: p/(R·T). @source ideal gas law */
export function dryAirDensity(pressure: AbsolutePressure, T: Temperature): Density {
  return density(pressure / (DRY_AIR_GAS_CONSTANT * T));
}
