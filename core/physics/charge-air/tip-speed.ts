import {
  type AngularSpeed,
  angularSpeed,
  type Length,
  type Measured,
  measured,
  type Speed,
  speed,
} from '../../quantities/index.ts';

/** Speed of the wheel's outer edge [m/s]: U = ω·d/2. @param diameter d of the exducer [m] @source kinematics */
export function tipSpeed(diameter: Length, shaft: AngularSpeed): Speed {
  return speed((shaft * diameter) / 2);
}

/** Shaft speed at a tip speed [rad/s]; inverse of {@link tipSpeed}. */
export function speedOfTip(diameter: Length, tip: Speed): AngularSpeed {
  return angularSpeed((2 * tip) / diameter);
}

/**
 * Tip speeds at which compressor wheels are usually limited [m/s]: low for cast, high for machined wheels.
 *
 * @source from memory; the maker's figure for the wheel replaces it
 */
export const USUAL_TIP_LIMIT: { readonly low: Speed; readonly high: Speed } = { low: speed(480), high: speed(560) };

/**
 * Room below a shaft-speed limit [1]: (nlim − n)/n, with its standard uncertainty.
 *
 * @param shaft n [rad/s] @param limit nlim [rad/s]
 * @source  definition; JCGM 100:2008, equation 12
 */
export function shaftSpeedMargin(shaft: Measured, limit: Measured): Measured {
  const quotient = limit.value / shaft.value;
  const relative = Math.hypot(limit.standardUncertainty / limit.value, shaft.standardUncertainty / shaft.value);
  return measured(quotient - 1, quotient * relative);
}
