import type { AmbientRuleName } from './facts.ts';

/**
 * What one pull made. Arrays are as long as `engineSpeed`; NaN where unknown.
 * axis: what increases from point to point. Engine speed where it is known and only rises; roll speed where it is unknown or a gear changes.
 * Powers in W, each a visible line of the chain:
 *
 *     roll = (force + equivalent mass · acceleration) · roll speed      measured
 *     tyre = roll · (1 + slip)
 *     engine = (tyre + rolling loss + wheel inertia) / (1 − torque loss) + engine inertia
 *     corrected = engine · ambient factor                               only where a rule is chosen
 */
export interface PowerCurve {
  readonly axis: 'engine-speed' | 'roll-speed';
  /** [rad/s] */
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
  /** 1 = no quick change near by that the smoothing could have shaped: peaks are taken here. Absent: everywhere. */
  readonly steady?: Uint8Array;
  /** Which of the lines could not be computed, in words. */
  readonly missing: readonly string[];
  /** Bandwidth of the derivative and the curve [Hz], −3 dB, and how much it lowers the peak [1], from the curve's own curvature. */
  readonly bandwidth: number;
  readonly peakBias: number;
}

/**
 * One contribution to the uncertainty (GUM 5.1): what one standard deviation of this input does to the powers at the peak [W].
 * The same input can act on roll, tyre and engine power differently; NaN where that power is unknown.
 */
export interface BudgetLine {
  readonly name: string;
  readonly roll: number;
  readonly tyre: number;
  readonly engine: number;
  /** Shared between the pulls of a day with one set-up: cancels in a difference. Random: does not. */
  readonly sharing: 'shared' | 'random';
  /** Measured today, stated by the user, or a default of ours; with its source. */
  readonly origin: string;
  readonly degreesOfFreedom?: number;
}

export interface Peak {
  /** curve: at the stated bandwidth. one second: mean over 1 s. samples: the highest single sample, as logged. */
  readonly basis: 'curve' | 'one second' | 'samples';
  readonly what: 'roll power' | 'wheel power' | 'engine power' | 'corrected power' | 'roll torque' | 'engine torque';
  readonly value: number;
  readonly standardUncertainty: number;
  readonly engineSpeed: number | undefined;
  readonly rollSpeed: number;
  readonly time: number;
}
