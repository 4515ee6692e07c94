import { bracketedRoot } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  CELSIUS_ZERO,
  temperature as kelvin,
  ratio,
  type Temperature,
} from '../../quantities/index.ts';
import { humidityRatio, vapourPressureOfHumidityRatio } from './humidity.ts';
import { saturationPressure } from './saturation-pressure.ts';

export interface WetBulbReading {
  readonly dryBulb: Temperature;
  readonly wetBulb: Temperature;
  readonly pressure: AbsolutePressure;
}

/**
 * Partial pressure of water vapour from dry and wet bulb [Pa].
 *
 *     W = ((2501 − 2.326·tw)·Ws(tw) − 1.006·(t − tw)) / (2501 + 1.86·t − 4.186·tw)        t, tw in °C
 *
 * The wet bulb here is the temperature of adiabatic saturation; a ventilated instrument agrees within about 2 % of pv, a still
 * bulb reads too warm. Negative when the pair of readings is impossible (wet bulb far too cold), NaN when wet is above dry.
 *
 * @valid   wet bulb from 0 to 50 °C; below 0 °C the bulb may be ice and the answer is NaN
 * @source  ASHRAE Handbook Fundamentals, psychrometrics, energy balance of the wet bulb (from memory; check 2-09)
 */
export function vapourPressureOfWetBulb({ dryBulb, wetBulb, pressure }: WetBulbReading): AbsolutePressure {
  const t = dryBulb - CELSIUS_ZERO;
  const tw = wetBulb - CELSIUS_ZERO;
  const saturated = humidityRatio(saturationPressure(wetBulb), pressure);
  const water = ((2501 - 2.326 * tw) * saturated - 1.006 * (t - tw)) / (2501 + 1.86 * t - 4.186 * tw);
  return vapourPressureOfHumidityRatio(ratio(tw > t || tw < 0 ? Number.NaN : water), pressure);
}

export interface MoistAir {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly vapourPressure: AbsolutePressure;
}

/**
 * Wet-bulb temperature [K]: the inverse of {@link vapourPressureOfWetBulb}; NaN where it would lie below 0 °C or the air is supersaturated.
 *
 * @source  as {@link vapourPressureOfWetBulb}
 */
export function wetBulb({ temperature, pressure, vapourPressure }: MoistAir): Temperature {
  const miss = (tw: number): number =>
    vapourPressureOfWetBulb({ dryBulb: temperature, wetBulb: kelvin(tw), pressure }) - vapourPressure;
  if (temperature <= CELSIUS_ZERO) return kelvin(Number.NaN);
  return kelvin(bracketedRoot(miss, { lower: CELSIUS_ZERO, upper: temperature }));
}
