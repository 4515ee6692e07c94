import {
  type Acceleration,
  acceleration,
  type Inertia,
  type Length,
  type Mass,
  mass,
  type Torque,
} from '../../quantities/index.ts';

export interface RotatingParts {
  /** Engine revolutions per wheel revolution [1], > 0. */
  readonly overallRatio: number;
  /** At the crankshaft [kg·m²]. */
  readonly engineInertia: Inertia;
  /** Wheels, shafts and gears as seen at the wheel [kg·m²]. */
  readonly wheelInertia: Inertia;
  /** Dynamic radius [m]. */
  readonly tyreRadius: Length;
  /** Mass equivalent of the roll at its surface [kg]; 0 leaves it out. */
  readonly rollMass: Mass;
}

/**
 * Everything that turns, as one mass at the roll surface [kg].
 *
 *     M = Mroll + (Iw + i²·Ie)/rt²
 *
 * @valid   no slip at tyre and clutch
 * @source  reduction by equal kinetic energy
 */
export function effectiveMass(parts: RotatingParts): Mass {
  const { overallRatio, engineInertia, wheelInertia, tyreRadius, rollMass } = parts;
  const turning = wheelInertia + overallRatio ** 2 * engineInertia;
  return mass(rollMass + turning / tyreRadius ** 2);
}

/**
 * Surface acceleration that an engine torque gives when nothing else takes power [m/s²]: a = T·i/(rt·M).
 *
 * @source  equal power at crankshaft and surface
 */
export function surfaceAcceleration(engineTorque: Torque, parts: RotatingParts): Acceleration {
  return acceleration((engineTorque * parts.overallRatio) / parts.tyreRadius / effectiveMass(parts));
}
