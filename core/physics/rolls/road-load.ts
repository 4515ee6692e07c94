import {
  type Acceleration,
  type Force,
  force,
  type Mass,
  type Speed,
  STANDARD_GRAVITY,
} from '../../quantities/index.ts';

/** Coefficients of a speed-dependent force: constant [N], linear [N·s/m], square [N·s²/m²]. */
export interface RoadLoad {
  readonly constant: number;
  readonly linear: number;
  readonly square: number;
}

/** Force at a steady speed on the level [N]: A + B·v + C·v². @param speed v [m/s], ≥ 0 @source 40 CFR 1066.210 */
export function roadLoadForce(load: RoadLoad, speed: Speed): Force {
  return force(load.constant + load.linear * speed + load.square * speed * speed);
}

export interface RoadState {
  readonly load: RoadLoad;
  readonly speed: Speed;
  readonly acceleration: Acceleration;
  /** Vehicle mass [kg]; counts on a grade. */
  readonly mass: Mass;
  /** Mass with the rotating parts of the vehicle [kg]; counts while accelerating. */
  readonly effectiveMass: Mass;
  /** Rise over run [1], 0.05 is five percent uphill. */
  readonly grade: number;
}

/**
 * Force that the roller must put against the vehicle to be the road [N].
 *
 *     F = A·cos(atan G) + B·v + C·v² + Me·dv/dt + M·g·sin(atan G)
 *
 * @source  40 CFR 1066.210(d): symbols and g = 9.80665 m/s² seen, layout of the equation from memory
 */
export function roadForce({ load, speed, acceleration, mass, effectiveMass, grade }: RoadState): Force {
  const angle = Math.atan(grade);
  const rolling = load.constant * Math.cos(angle) + load.linear * speed + load.square * speed * speed;
  return force(rolling + effectiveMass * acceleration + mass * STANDARD_GRAVITY * Math.sin(angle));
}
