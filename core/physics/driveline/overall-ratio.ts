import { type AngularSpeed, type Length, type Ratio, ratio, type Speed } from '../../quantities/index.ts';

export interface RatioInput {
  readonly engineSpeed: AngularSpeed;
  /** Of the roll surface [m/s]. */
  readonly surfaceSpeed: Speed;
  /** Dynamic tyre radius [m]. */
  readonly tyreRadius: Length;
}

/**
 * Engine revolutions per wheel revolution as the speeds show it [1]: i = ωe·rt/v. Slip at tyre or clutch makes it too large.
 *
 * NaN at standstill.
 *
 * @source  kinematics
 */
export function overallRatio({ engineSpeed, surfaceSpeed, tyreRadius }: RatioInput): Ratio {
  return ratio(surfaceSpeed > 0 ? (engineSpeed * tyreRadius) / surfaceSpeed : Number.NaN);
}

/** Engine radians per metre of roll surface [rad/m]: what a log shows of the gear without knowing the tyre. NaN at standstill. */
export function engineSpeedPerSurfaceSpeed(engineSpeed: AngularSpeed, surfaceSpeed: Speed): number {
  return surfaceSpeed > 0 ? engineSpeed / surfaceSpeed : Number.NaN;
}

/** Overall ratio as the product of the meshes engaged [1]: gear · final drive · transfer. @source kinematics */
export function overallRatioOfMeshes(meshes: readonly number[]): Ratio {
  return ratio(meshes.reduce((product, mesh) => product * mesh, 1));
}
