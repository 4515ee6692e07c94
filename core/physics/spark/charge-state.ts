import {
  type AbsolutePressure,
  type Angle,
  absolutePressure,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';
import { type CylinderShape, cylinderVolume } from '../cycle/mechanism/cylinder.ts';

/** Cylinder charge when the inlet valve closes, and how it is compressed. */
export interface TrappedCharge {
  readonly cylinder: CylinderShape;
  /** Inlet closing, before firing top dead centre, negative [rad]; 50° after bottom dead centre is −130°. */
  readonly closing: Angle;
  readonly pressure: AbsolutePressure;
  readonly temperature: Temperature;
  /** Polytropic exponent [1]; 1.30 … 1.35 (Heywood 9.2, from memory). */
  readonly exponent: number;
}

/**
 * Pressure and temperature of the charge at the moment of the spark.
 *
 *     p = p0·(V0/V)^n,   T = T0·(V0/V)^(n−1)
 *
 * A later spark is nearer top dead centre and meets denser gas: retard raises the voltage it takes.
 *
 * @param spark crank angle, negative before top dead centre [rad]
 * @valid   before the flame grows; no leak; tumble and valve timing under boost shift the pressure at closing
 * @source  polytropic compression: Heywood, Internal Combustion Engine Fundamentals, 9.2 (from memory)
 */
export function chargeAtSpark(
  charge: TrappedCharge,
  spark: Angle,
): { readonly pressure: AbsolutePressure; readonly temperature: Temperature } {
  const { cylinder, closing, exponent } = charge;
  const squeeze = cylinderVolume(cylinder, closing) / cylinderVolume(cylinder, spark);
  return {
    pressure: absolutePressure(charge.pressure * squeeze ** exponent),
    temperature: temperature(charge.temperature * squeeze ** (exponent - 1)),
  };
}
