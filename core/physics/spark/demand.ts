import { type Measured, measured, type Ratio, ratio, type Voltage, voltage } from '../../quantities/index.ts';
import { evenFieldVoltage, type GasGap } from './breakdown.ts';

/** Which equation tells the breakdown voltage of a new plug. */
export type DemandForm = 'engine-correlation' | 'even-field';

/** State of the electrodes. */
export type ElectrodeState = 'new' | 'fine wire' | 'worn';

/**
 * Voltage demand of electrodes over that of a new plug with square edges [1], and its standard uncertainty.
 *
 * @source common practice, no source: rounded edges, rich or lean pockets and cold electrodes together are taken as 1.3
 */
export const ELECTRODE_FACTORS: Record<ElectrodeState, Measured> = {
  new: measured(1, 0.05),
  'fine wire': measured(0.88, 0.06),
  worn: measured(1.3, 0.1),
};

/** Relative standard uncertainty of the forms [1]: ± 25 % taken as limits of an even distribution. @source our default */
export const FORM_SPREAD = 0.25 / Math.sqrt(3);

export interface SparkDemandInput extends GasGap {
  readonly electrodes: ElectrodeState;
  /** At the plug [1]; absent: no part of the demand. */
  readonly lambda?: Ratio;
  /** Default `engine-correlation`. */
  readonly form?: DemandForm;
}

/** demand: of one plug [V]. The factors show what it is made of. */
export interface SparkDemand {
  readonly demand: Measured;
  readonly newPlug: Voltage;
  readonly electrodeFactor: Measured;
  readonly mixtureFactor: Ratio;
}

/**
 * Voltage that a plug takes to fire, from the gas at the moment of the spark.
 *
 * New plug × electrodes × mixture. Density and gap rule; the forms differ by up to a third, which the uncertainty covers.
 *
 * @valid   gap 0.3 … 1.2 mm, p/T up to 0.1 bar/K (40 bar at 400 K); beyond, an extrapolation
 * @source  forms: {@link correlationVoltage}, {@link evenFieldVoltage}; factors as at their tables
 */
export function sparkDemand(input: SparkDemandInput): SparkDemand {
  const newPlug = input.form === 'even-field' ? evenFieldVoltage(input) : correlationVoltage(input);
  const electrodeFactor = ELECTRODE_FACTORS[input.electrodes];
  const factor = mixtureFactor(input.lambda);
  const value = newPlug * electrodeFactor.value * factor;
  const relative = Math.hypot(FORM_SPREAD, electrodeFactor.standardUncertainty / electrodeFactor.value);
  return { demand: measured(value, value * relative), newPlug, electrodeFactor, mixtureFactor: factor };
}

/**
 * Breakdown voltage of a new plug in an engine [V].
 *
 *     V[kV] = 4.3 + 136·p/T + 324·p·d/T        p bar, T K, d mm
 *
 * @valid   engine densities; ± 25 %
 * @source  SAE 2000-01-0245 (not seen; constants from memory, doubtful)
 */
export function correlationVoltage({ gap, pressure, temperature }: GasGap): Voltage {
  const density = (pressure * 1e-5) / temperature;
  return voltage(1e3 * (4.3 + 136 * density + 324 * density * gap * 1e3));
}

/**
 * Share by which a lean or very rich mixture raises the demand [1]: 1 between λ 0.8 and 1, +5 % per 0.1 leaner, +3 % per 0.1 richer.
 *
 * @source our default; that weak mixtures take more voltage: a vehicle-electronics textbook abstract (seen), without figures
 */
export function mixtureFactor(lambda: Ratio | undefined): Ratio {
  if (lambda === undefined) return ratio(1);
  return ratio(1 + 0.5 * Math.max(0, lambda - 1) + 0.3 * Math.max(0, 0.8 - lambda));
}
