import { type AngularSpeed, type Length, type Ratio, ratio, type Speed } from '../../quantities/index.ts';

export interface SlipInput {
  readonly wheelSpeed: AngularSpeed;
  /** Effective rolling radius [m]: that of free rolling. */
  readonly effectiveRadius: Length;
  /** Of the roll surface [m/s]. */
  readonly surfaceSpeed: Speed;
}

/**
 * Longitudinal slip [1]: S = (Re·ω − V)/V; positive while driving, −1 for a locked wheel, NaN at standstill.
 *
 * @source  SAE J670 / ISO 8855 definition (from memory)
 */
export function longitudinalSlip({ wheelSpeed, effectiveRadius, surfaceSpeed }: SlipInput): Ratio {
  return ratio(surfaceSpeed > 0 ? (effectiveRadius * wheelSpeed - surfaceSpeed) / surfaceSpeed : Number.NaN);
}

export interface SlipFromRatio {
  readonly engineSpeed: AngularSpeed;
  readonly surfaceSpeed: Speed;
  /** Engine speed per surface speed at light load in the same gear, where slip is taken as zero [rad/m], > 0. */
  readonly freeRatio: number;
}

/**
 * Slip from engine speed against roll speed [1]: S = (ωe/V)/k − 1.
 *
 * Counts clutch and converter slip too, and a tyre that grows with speed shows as negative slip.
 *
 * @valid   clutch closed, same gear as the calibration; NaN at standstill
 * @source  definition of slip through a rigid driveline
 */
export function slipFromRatio({ engineSpeed, surfaceSpeed, freeRatio }: SlipFromRatio): Ratio {
  return ratio(surfaceSpeed > 0 && freeRatio > 0 ? engineSpeed / surfaceSpeed / freeRatio - 1 : Number.NaN);
}
