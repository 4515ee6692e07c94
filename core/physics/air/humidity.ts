import {
  type AbsolutePressure,
  absolutePressure,
  type Ratio,
  ratio,
  type Temperature,
} from '../../quantities/index.ts';
import { saturationPressure } from './saturation-pressure.ts';

/** Molar mass of water over that of dry air [1]. @source ASHRAE Handbook Fundamentals, psychrometrics (from memory) */
export const WATER_TO_AIR_MASS = 0.621945;

/**
 * Partial pressure of water vapour [Pa]: pv = RH·ps(T).
 *
 * @param relativeHumidity 0 … 1 @param temperature of the air [K]
 * @source  definition of relative humidity
 */
export function vapourPressure(relativeHumidity: Ratio, temperature: Temperature): AbsolutePressure {
  return absolutePressure(relativeHumidity * saturationPressure(temperature));
}

/** Relative humidity [1]: pv/ps(T). Above 1 the air is supersaturated or a reading is wrong. */
export function relativeHumidity(vapour: AbsolutePressure, temperature: Temperature): Ratio {
  return ratio(vapour / saturationPressure(temperature));
}

/** Pressure of the air without its water vapour [Pa]: p − pv. @param pressure barometric, total [Pa] @source Dalton's law */
export function dryAirPressure(pressure: AbsolutePressure, vapour: AbsolutePressure): AbsolutePressure {
  return absolutePressure(pressure - vapour);
}

/** Water mole fraction [mol/mol]: pv/p. @source 40 CFR 1065.645(b), (c) */
export function waterMoleFraction(vapour: AbsolutePressure, pressure: AbsolutePressure): Ratio {
  return ratio(vapour / pressure);
}

/** Mass of water per mass of dry air [kg/kg]: 0.621945·pv/(p − pv). @source ASHRAE Handbook Fundamentals (from memory) */
export function humidityRatio(vapour: AbsolutePressure, pressure: AbsolutePressure): Ratio {
  return ratio((WATER_TO_AIR_MASS * vapour) / (pressure - vapour));
}

/** Partial pressure of water vapour from a humidity ratio [Pa]; inverse of {@link humidityRatio}. */
export function vapourPressureOfHumidityRatio(waterPerAir: Ratio, pressure: AbsolutePressure): AbsolutePressure {
  return absolutePressure((pressure * waterPerAir) / (WATER_TO_AIR_MASS + waterPerAir));
}
