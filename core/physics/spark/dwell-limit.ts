import { bracketedRoot } from '../../numerics/index.ts';
import { type Duration, duration, type Power, type Ratio, type Voltage } from '../../quantities/index.ts';
import { type Coil, coilHeat, type FiringPattern, timeBetweenSparks } from './coil.ts';

export interface DwellQuestion {
  readonly coil: Coil;
  readonly volts: Voltage;
  readonly pattern: FiringPattern;
  /** Largest share of the time with current [1]; 0.6 … 0.7 (common practice, no source). */
  readonly dutyLimit: Ratio;
  /** Mean heat that the primary circuit may make [W]; from the coil's data. Absent: not asked. */
  readonly heatLimit?: Power;
}

/** by: what ends it: the time beside the spark, the share of the cycle, or heat. */
export interface DwellLimit {
  readonly dwell: Duration;
  readonly by: 'time' | 'duty' | 'heat';
}

/**
 * Longest dwell that time, duty and heat allow at a speed [s].
 *
 * @valid   steady running; for the seconds of a pull the coil's own heat capacity allows more (common practice, no source)
 * @source  cycle of two revolutions; Joule's law by {@link coilHeat}
 */
export function dwellLimit({ coil, volts, pattern, dutyLimit, heatLimit }: DwellQuestion): DwellLimit {
  const between = timeBetweenSparks(pattern);
  const byTime = Math.max(0, between - pattern.sparkDuration);
  const byDuty = dutyLimit * between;
  const first: DwellLimit =
    byTime <= byDuty ? { dwell: duration(byTime), by: 'time' } : { dwell: duration(byDuty), by: 'duty' };
  if (heatLimit === undefined) return first;
  const excess = (time: number): number => coilHeat(coil, { volts, time: duration(time) }, pattern) - heatLimit;
  if (!(excess(first.dwell) > 0)) return first;
  return { dwell: duration(bracketedRoot(excess, { lower: 0, upper: first.dwell })), by: 'heat' };
}
