import {
  type AngularAcceleration,
  type AngularSpeed,
  type Energy,
  energy,
  type Force,
  force,
  type Inertia,
  type Length,
  type Mass,
  mass,
  type Power,
  power,
  type Speed,
  type Torque,
  torque,
} from '../../quantities/index.ts';

/** Power at the roll surface [W]: P = F·v. @source definition of mechanical power */
export function surfacePower(surfaceForce: Force, surfaceSpeed: Speed): Power {
  return power(surfaceForce * surfaceSpeed);
}

/** Power of a shaft [W]: P = T·ω. @source definition of mechanical power */
export function shaftPower(shaftTorque: Torque, rotation: AngularSpeed): Power {
  return power(shaftTorque * rotation);
}

/** Torque of a shaft from its power [N·m]: T = P/ω; infinite or NaN at standstill. */
export function shaftTorque(shaft: Power, rotation: AngularSpeed): Torque {
  return torque(shaft / rotation);
}

/** Tangential force of a torque at a radius [N]: F = T/r. @param radius [m], > 0 */
export function tangentialForce(rollTorque: Torque, radius: Length): Force {
  return force(rollTorque / radius);
}

/**
 * Torque taken up by a rotating part while its speed changes [N·m].
 *
 *     T = I·α        both at the same shaft
 *
 * Positive while speeding up.
 *
 * @source  rigid-body rotation
 */
export function inertiaTorque(inertia: Inertia, acceleration: AngularAcceleration): Torque {
  return torque(inertia * acceleration);
}

export interface Rotation {
  readonly inertia: Inertia;
  readonly speed: AngularSpeed;
  readonly acceleration: AngularAcceleration;
}

/** Power taken up by a rotating part while its speed changes [W]: P = I·ω·α. @source rigid-body rotation */
export function inertiaPower({ inertia, speed, acceleration }: Rotation): Power {
  return power(inertia * speed * acceleration);
}

/** Kinetic energy of a rotating part [J]: ½·I·ω². @source rigid-body rotation */
export function rotationEnergy(inertia: Inertia, rotation: AngularSpeed): Energy {
  return energy((inertia * rotation * rotation) / 2);
}

/**
 * Mass with the same kinetic energy at the surface of a drum [kg]: M = I/r².
 *
 * @param inertia I [kg·m²] of everything that turns with the drum @param radius r [m], > 0
 * @source  reduction by equal kinetic energy
 */
export function equivalentMass(inertia: Inertia, radius: Length): Mass {
  return mass(inertia / (radius * radius));
}
