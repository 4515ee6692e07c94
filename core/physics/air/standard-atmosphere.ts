import {
  type AbsolutePressure,
  absolutePressure,
  type Density,
  density,
  type Length,
  length,
  STANDARD_ATMOSPHERE,
  STANDARD_GRAVITY,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';

/** Sea level temperature [K], lapse [K/m], gas constant of air R*·/M0 [J/(kg·K)], Earth radius [m]. @source US Standard Atmosphere 1976 */
const SEA_LEVEL_TEMPERATURE = 288.15;
const LAPSE = 0.0065;
const AIR_GAS_CONSTANT = 8314.32 / 28.9644;
const EARTH_RADIUS = 6356766;
/** g0·M0/(R*·L), 5.25588 [1]. */
const EXPONENT = STANDARD_GRAVITY / (AIR_GAS_CONSTANT * LAPSE);
const SEA_LEVEL_DENSITY = STANDARD_ATMOSPHERE / (AIR_GAS_CONSTANT * SEA_LEVEL_TEMPERATURE);

/** State of the standard atmosphere. */
export interface StandardAir {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly density: Density;
}

/**
 * Standard atmosphere at a geopotential altitude.
 *
 *     T = 288.15 − 0.0065·h,   p = 101325·(T/288.15)^5.25588,   ρ = p/(R·T)
 *
 * @param altitude geopotential h [m]
 * @valid   −5 000 … 11 000 m (troposphere); NaN outside
 * @source  US Standard Atmosphere 1976
 */
export function standardAtmosphere(altitude: Length): StandardAir {
  const inside = altitude >= -5000 && altitude <= 11000;
  const T = inside ? SEA_LEVEL_TEMPERATURE - LAPSE * altitude : Number.NaN;
  const p = STANDARD_ATMOSPHERE * (T / SEA_LEVEL_TEMPERATURE) ** EXPONENT;
  return { temperature: temperature(T), pressure: absolutePressure(p), density: density(p / (AIR_GAS_CONSTANT * T)) };
}

/** Geopotential from geometric altitude [m]: h = r·z/(r + z). @source US Standard Atmosphere 1976 */
export function geopotentialAltitude(geometric: Length): Length {
  return length((EARTH_RADIUS * geometric) / (EARTH_RADIUS + geometric));
}

/** Geometric from geopotential altitude [m]; inverse of {@link geopotentialAltitude}. */
export function geometricAltitude(geopotential: Length): Length {
  return length((EARTH_RADIUS * geopotential) / (EARTH_RADIUS - geopotential));
}

/** Geopotential altitude at which the standard atmosphere has this density [m]. @valid troposphere @source inverse of the 1976 troposphere */
export function densityAltitude(airDensity: Density): Length {
  const T = SEA_LEVEL_TEMPERATURE * (airDensity / SEA_LEVEL_DENSITY) ** (1 / (EXPONENT - 1));
  return length((SEA_LEVEL_TEMPERATURE - T) / LAPSE);
}

/** Geopotential altitude at which the standard atmosphere has this pressure [m]. @source inverse of the 1976 troposphere */
export function pressureAltitude(pressure: AbsolutePressure): Length {
  const T = SEA_LEVEL_TEMPERATURE * (pressure / STANDARD_ATMOSPHERE) ** (1 / EXPONENT);
  return length((SEA_LEVEL_TEMPERATURE - T) / LAPSE);
}

export interface SeaLevelReport {
  /** Pressure as weather reports and airports give it: reduced to sea level [Pa]. */
  readonly seaLevelPressure: AbsolutePressure;
  /** Of the place, above sea level [m]. */
  readonly altitude: Length;
  /** Outdoor air at the place [K]; without it the standard column is taken. */
  readonly temperature?: Temperature;
}

/**
 * True pressure at the place from a pressure reduced to sea level [Pa].
 *
 *     without temperature:  p = p0·(1 − 0.0065·h/288.15)^5.25588          airport setting: standard column
 *     with temperature:     p = p0·exp(−g·h/(R·(T + 0.0065·h/2)))         weather report: column of the mean temperature
 *
 * The two differ by about 0.5 % at 500 m and 20 K away from standard; a barometer at the place beats both.
 *
 * @valid   −500 … 4 000 m; humidity of the column ignored (below 0.1 % at 1 000 m)
 * @source  hydrostatic equation; standard column: US Standard Atmosphere 1976; which reduction a report used must be asked
 */
export function stationPressure({ seaLevelPressure, altitude, temperature: T }: SeaLevelReport): AbsolutePressure {
  const share =
    T === undefined
      ? (1 - (LAPSE * altitude) / SEA_LEVEL_TEMPERATURE) ** EXPONENT
      : Math.exp((-STANDARD_GRAVITY * altitude) / (AIR_GAS_CONSTANT * (T + (LAPSE * altitude) / 2)));
  return absolutePressure(seaLevelPressure * share);
}
