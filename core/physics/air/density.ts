import {
  type AbsolutePressure,
  CELSIUS_ZERO,
  type Density,
  density,
  type Ratio,
  type Temperature,
} from '../../quantities/index.ts';

/** Gas constants of dry air and of water vapour [J/(kg·K)]. @source common textbook values, ASHRAE (from memory) */
export const DRY_AIR_GAS_CONSTANT = 287.05;
export const WATER_GAS_CONSTANT = 461.5;

export interface CipmAir {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly relativeHumidity: Ratio;
}

/** density [kg/m³], water mole fraction [mol/mol], compressibility [1]. */
export interface CipmDensity {
  readonly density: Density;
  readonly waterMoleFraction: number;
  readonly compressibility: number;
}

/**
 * Density of moist air, reference formula [kg/m³].
 *
 *     ρ = p·Ma/(Z·R·T)·(1 − xv·(1 − Mv/Ma))
 *
 * @valid   15 … 27 °C, 60 … 110 kPa, 0 … 1 relative humidity, 400 ppm CO₂ (range from memory); relative uncertainty 22e-6 there
 * @source  CIPM-2007: Picard et al., Metrologia 45 (2008) 149, with its constants
 */
export function cipmDensity({ temperature: T, pressure: p, relativeHumidity: rh }: CipmAir): CipmDensity {
  const t = T - CELSIUS_ZERO;
  const saturation = Math.exp(1.2378847e-5 * T * T - 1.9121316e-2 * T + 33.93711047 - 6.3431645e3 / T);
  const enhancement = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
  const xv = (rh * enhancement * saturation) / p;
  const second =
    1.58123e-6 -
    2.9331e-8 * t +
    1.1043e-10 * t * t +
    (5.707e-6 - 2.051e-8 * t) * xv +
    (1.9898e-4 - 2.376e-6 * t) * xv * xv;
  const compressibility = 1 - (p / T) * second + (p / T) ** 2 * (1.83e-11 - 0.765e-8 * xv * xv);
  const rho =
    ((p * AIR_MOLAR_MASS) / (compressibility * GAS_CONSTANT * T)) * (1 - xv * (1 - WATER_MOLAR_MASS / AIR_MOLAR_MASS));
  return { density: density(rho), waterMoleFraction: xv, compressibility };
}

/** Molar masses [kg/mol] and gas constant [J/(mol·K)] of the formula. @source CIPM-2007 */
const AIR_MOLAR_MASS = 28.96546e-3;
const WATER_MOLAR_MASS = 18.01528e-3;
const GAS_CONSTANT = 8.314472;

export interface MoistGas {
  readonly temperature: Temperature;
  readonly pressure: AbsolutePressure;
  readonly vapourPressure: AbsolutePressure;
}

/**
 * Density of moist air as a mixture of ideal gases [kg/m³].
 *
 *     ρ = (p − pv)/(Rd·T) + pv/(Rv·T)
 *
 * @valid   within 0.1 % of the reference formula for ambient air; any temperature and pressure where both gases are near ideal
 * @source  Dalton's law
 */
export function moistAirDensity({ temperature, pressure, vapourPressure }: MoistGas): Density {
  const dry = (pressure - vapourPressure) / (DRY_AIR_GAS_CONSTANT * temperature);
  return density(dry + vapourPressure / (WATER_GAS_CONSTANT * temperature));
}
