import type { AmbientRuleName } from './facts.ts';

/**
 * What one pull made, against engine speed (or roll speed when no engine speed is known). Arrays are as long as `engineSpeed`; NaN where unknown.
 * Powers in W, each a visible line of the chain:
 *
 *     roll = (force + equivalent mass · acceleration) · roll speed      measured
 *     tyre = roll · (1 + slip)
 *     engine = (tyre + rolling loss + wheel inertia) / (1 − torque loss) + engine inertia
 *     corrected = engine · ambient factor                               only where a rule is chosen
 */
export interface PowerCurve {
  /** [rad/s], increasing. */
  readonly engineSpeed: Float64Array;
  /** Middle time of each point on the record's clock [s]. */
  readonly time: Float64Array;
  readonly rollSpeed: Float64Array;
  readonly brakePower: Float64Array;
  readonly rollInertiaPower: Float64Array;
  readonly rollPower: Float64Array;
  readonly slip: Float64Array;
  readonly tyrePower: Float64Array;
  readonly rollingLossPower: Float64Array;
  readonly wheelInertiaPower: Float64Array;
  readonly torqueLossPower: Float64Array;
  readonly engineInertiaPower: Float64Array;
  readonly enginePower: Float64Array;
  readonly correctedPower: Float64Array;
  readonly factor: number;
  readonly rule: AmbientRuleName;
  /** Standard uncertainties [W], same length. */
  readonly rollPowerUncertainty: Float64Array;
  readonly tyrePowerUncertainty: Float64Array;
  readonly enginePowerUncertainty: Float64Array;
  /** 1 = usable, 0 = in a gap or a void window. */
  readonly valid: Uint8Array;
  /** Which of the lines could not be computed, in words. */
  readonly missing: readonly string[];
  /** Bandwidth of the derivative and the curve [Hz], −3 dB, and how much it lowers the peak [1], from the curve's own curvature. */
  readonly bandwidth: number;
  readonly peakBias: number;
}

/** One contribution to the uncertainty of a result (GUM 5.1): relative standard uncertainty times sensitivity, in W at the peak. */
export interface BudgetLine {
  readonly name: string;
  readonly contribution: number;
  /** Shared between the pulls of a day with one set-up: cancels in a difference. Random: does not. */
  readonly sharing: 'shared' | 'random';
  /** Measured today, stated by the user, or a default of ours; with its source. */
  readonly origin: string;
  readonly degreesOfFreedom?: number;
}

export interface Peak {
  readonly what: 'roll power' | 'wheel power' | 'engine power' | 'corrected power' | 'roll torque' | 'engine torque';
  readonly value: number;
  readonly standardUncertainty: number;
  readonly engineSpeed: number | undefined;
  readonly rollSpeed: number;
  readonly time: number;
}
