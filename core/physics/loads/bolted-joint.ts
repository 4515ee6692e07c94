import { type Area, area, type Force, force, type Length, type Ratio, type Torque } from '../../quantities/index.ts';

/** A bolt and what it clamps. */
export interface BoltedJoint {
  /** Of one bolt [N]. */
  readonly preload: Force;
  /** Stiffness of bolt over that of bolt and clamped parts together [1], 0 … 1; 0.15 … 0.3 is usual (common practice, no source). */
  readonly stiffnessShare: Ratio;
  /** [m²] */
  readonly stressArea: Area;
}

/** bolt: whole force in the bolt [N]. clamp: left between the parts [N]; 0 once they part. stress: in the bolt [Pa]. */
export interface JointState {
  readonly bolt: Force;
  readonly clamp: Force;
  readonly stress: number;
  readonly parted: boolean;
}

/**
 * Bolt and clamp force under an outer tension.
 *
 *     Fb = Fi + C·P,   Fm = Fi − (1 − C)·P        parted: Fb = P
 *
 * While it holds, the bolt feels only the share C of what comes and goes; once parted it feels everything. Hence preload, not strength,
 * keeps a rod bolt alive.
 *
 * @param outer P of one bolt [N], ≥ 0
 * @valid   outer force in line with the bolt; prying of a bending cap is left out and can double it
 * @source  Shigley, Mechanical Engineering Design, 8-7 (from memory)
 */
export function jointState({ preload, stiffnessShare: C, stressArea }: BoltedJoint, outer: Force): JointState {
  const clamp = preload - (1 - C) * outer;
  const bolt = clamp > 0 ? preload + C * outer : outer;
  return { bolt: force(bolt), clamp: force(Math.max(0, clamp)), stress: bolt / stressArea, parted: clamp <= 0 };
}

/** Outer force at which the parts lose contact [N]: Fi/(1 − C). @source {@link jointState} */
export function partingForce({ preload, stiffnessShare }: BoltedJoint): Force {
  return force(preload / (1 - stiffnessShare));
}

/**
 * Preload from a tightening torque [N]: F = T/(K·d).
 *
 * @param nutFactor K [1]: about 0.20 dry, 0.15 oiled, 0.11 … 0.13 with fitting paste (common practice, no source)
 * @valid   scatter ± 25 … 30 %: stretch or angle tells preload far better
 * @source  Shigley, Mechanical Engineering Design, 8-8 (from memory)
 */
export function preloadOfTorque(tightening: Torque, nutFactor: Ratio, diameter: Length): Force {
  return force(tightening / (nutFactor * diameter));
}

/**
 * Preload from the stretch of a bolt [N]: F = E·A·ΔL/L.
 *
 * @param bolt modulus [Pa], area of the stretched shank, its length
 * @source  Hooke's law
 */
export function preloadOfStretch(
  bolt: { readonly modulus: number; readonly area: Area; readonly length: Length },
  stretch: Length,
): Force {
  return force((bolt.modulus * bolt.area * stretch) / bolt.length);
}

/**
 * Stress area of a metric thread [m²]: π/4·(d − 0.9382·P)².
 *
 * @param diameter nominal d [m] @param pitch P [m]
 * @source  ISO 898-1 (from memory)
 */
export function threadStressArea(diameter: Length, pitch: Length): Area {
  return area((Math.PI / 4) * (diameter - 0.9382 * pitch) ** 2);
}
