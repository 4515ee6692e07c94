import {
  type Acceleration,
  type Angle,
  type AngularSpeed,
  type Area,
  acceleration,
  area,
  type Length,
  length,
  type Speed,
  speed,
} from '../../../quantities/index.ts';

/** A crank mechanism without pin or crank offset. */
export interface SliderCrank {
  readonly bore: Length;
  readonly stroke: Length;
  /** Between the centres of the rod's eyes [m], above half the stroke. */
  readonly rodLength: Length;
}

/**
 * Distance of the piston from its top dead centre [m].
 *
 *     x = r·(1 − cos θ) + l − q,   q = √(l² − r²·sin²θ)
 *
 * @param angle θ after top dead centre [rad]
 * @valid   rigid parts, no offset
 * @source  kinematics; Heywood, Internal Combustion Engine Fundamentals, 2.2 (from memory)
 */
export function pistonTravel({ stroke, rodLength: l }: SliderCrank, angle: Angle): Length {
  const r = stroke / 2;
  return length(r * (1 - Math.cos(angle)) + l - Math.sqrt(l * l - (r * Math.sin(angle)) ** 2));
}

/** Piston speed, away from the head positive [m/s]: rω·sin θ·(1 + r·cos θ/q). @source time derivative of {@link pistonTravel} */
export function pistonSpeed({ stroke, rodLength: l }: SliderCrank, angle: Angle, rotation: AngularSpeed): Speed {
  const r = stroke / 2;
  const q = Math.sqrt(l * l - (r * Math.sin(angle)) ** 2);
  return speed(r * rotation * Math.sin(angle) * (1 + (r * Math.cos(angle)) / q));
}

/**
 * Piston acceleration at steady rotation, towards the crank positive [m/s²].
 *
 *     a = rω²·(cos θ + r·cos 2θ/q + r³·sin² 2θ/(4q³))
 *
 * @source  second time derivative of {@link pistonTravel}
 */
export function pistonAcceleration(
  { stroke, rodLength: l }: SliderCrank,
  angle: Angle,
  rotation: AngularSpeed,
): Acceleration {
  const r = stroke / 2;
  const q = Math.sqrt(l * l - (r * Math.sin(angle)) ** 2);
  const shape = Math.cos(angle) + (r * Math.cos(2 * angle)) / q + (r ** 3 * Math.sin(2 * angle) ** 2) / (4 * q ** 3);
  return acceleration(r * rotation * rotation * shape);
}

/** Mean piston speed [m/s]: 2·stroke·revolutions per second. @source definition */
export function meanPistonSpeed(stroke: Length, rotation: AngularSpeed): Speed {
  return speed((stroke * rotation) / Math.PI);
}

/** Area of the piston [m²]. */
export function pistonArea(bore: Length): Area {
  return area((Math.PI * bore * bore) / 4);
}
