import {
  type Duration,
  duration,
  type Temperature,
  type TemperatureDifference,
  temperature,
  temperatureDifference,
} from '../../quantities/index.ts';

/** One lump of heat: a fluid or a part with one temperature. */
export interface HeatLump {
  readonly start: Temperature;
  /** Where it would settle if nothing changed [K]. */
  readonly end: Temperature;
  /** Time constant τ = m·c/(U·A) [s], > 0. */
  readonly timeConstant: Duration;
}

/**
 * Temperature after a time [K]: T = Tend + (Tstart − Tend)·e^(−t/τ).
 *
 * @param time t [s], ≥ 0
 * @valid   Biot number below 0.1: conduction inside is quick beside the exchange at the surface; constant surroundings
 * @source  lumped capacitance: Incropera, Fundamentals of Heat and Mass Transfer, 5.1 (from memory)
 */
export function lumpTemperature({ start, end, timeConstant }: HeatLump, time: Duration): Temperature {
  return temperature(end + (start - end) * Math.exp(-time / timeConstant));
}

/**
 * Time until a temperature is reached [s]: τ·ln((Tstart − Tend)/(T − Tend)).
 *
 * 0 where it has been passed already, infinite where the end is not beyond it.
 */
export function timeToTemperature({ start, end, timeConstant }: HeatLump, wanted: Temperature): Duration {
  const left = (start - end) / (wanted - end);
  if (Math.abs(start - end) <= Math.abs(wanted - end) && left > 0) return duration(0);
  return duration(left > 0 ? timeConstant * Math.log(left) : Number.POSITIVE_INFINITY);
}

/** How a part warms under load and recovers. */
export interface HeatSoak {
  /** Rise already there [K]. */
  readonly rise: TemperatureDifference;
  /** Rise per second of load without recovery [K/s], ≥ 0. */
  readonly heating: number;
  /** Recovery time constant [s], > 0. */
  readonly timeConstant: Duration;
}

/**
 * Rise above the cold state after a time under load [K].
 *
 *     dθ/dt = q − θ/τ        θ(t) = qτ + (θ0 − qτ)·e^(−t/τ)
 *
 * Recovery without load is the same with q = 0.
 *
 * @source  lumped capacitance, as {@link lumpTemperature}
 */
export function soakAfter({ rise, heating, timeConstant }: HeatSoak, time: Duration): TemperatureDifference {
  const settled = heating * timeConstant;
  return temperatureDifference(settled + (rise - settled) * Math.exp(-time / timeConstant));
}
