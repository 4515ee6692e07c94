import {
  CELSIUS_ZERO,
  type Duration,
  duration,
  type Mass,
  mass,
  type Power,
  type Temperature,
  temperature,
} from '../../quantities/index.ts';

/** Water of a water-to-air cooler, well stirred. While ice is left, the water stays at the melting point. */
export interface WaterTank {
  readonly water: Mass;
  readonly temperature: Temperature;
  readonly ice: Mass;
  /** Conductance to the surroundings, or of a radiator in the loop [W/K]; default 0. */
  readonly conductance?: number;
}

/** Specific heat of water [J/(kg·K)] and its heat of melting [J/kg]. @source CRC Handbook of Chemistry and Physics (from memory) */
export const WATER_HEAT_CAPACITY = 4186;
export const ICE_MELTING_HEAT = 333.6e3;

/**
 * Tank after ice is put into its water: either all ice melts, or the water falls to the melting point.
 *
 * @param ice mass added at 0 °C [kg]; ice from a freezer is worth up to 12 % more
 * @source  energy balance
 */
export function withIce(tank: WaterTank, ice: Mass): WaterTank {
  const warm = tank.water * WATER_HEAT_CAPACITY * (tank.temperature - CELSIUS_ZERO);
  const melted = Math.min(ice, warm / ICE_MELTING_HEAT);
  const water = tank.water + melted;
  const left = warm - melted * ICE_MELTING_HEAT;
  return {
    ...tank,
    water: mass(water),
    temperature: temperature(CELSIUS_ZERO + left / (water * WATER_HEAT_CAPACITY)),
    ice: mass(tank.ice + ice - melted),
  };
}

export interface TankLoad {
  /** Heat from the charge [W]. */
  readonly heat: Power;
  readonly ambient: Temperature;
  readonly time: Duration;
}

/**
 * Tank after a time of constant load.
 *
 *     with ice:     L·dm/dt = P + K·(Ta − 273.15)        water stays at the melting point
 *     without:      m·c·dT/dt = P + K·(Ta − T)
 *
 * @valid   well stirred, heat constant over the step, tank not below the melting point
 * @source  energy balance, closed solution
 */
export function tankAfter(tank: WaterTank, load: TankLoad): WaterTank {
  const conductance = tank.conductance ?? 0;
  const melting = load.heat + conductance * (load.ambient - CELSIUS_ZERO);
  if (tank.ice > 0) {
    const lasts = melting > 0 ? (tank.ice * ICE_MELTING_HEAT) / melting : Number.POSITIVE_INFINITY;
    const melted = Math.max(0, (melting * Math.min(load.time, lasts)) / ICE_MELTING_HEAT);
    const after = { ...tank, water: mass(tank.water + melted), ice: mass(load.time < lasts ? tank.ice - melted : 0) };
    return load.time <= lasts ? after : tankAfter(after, { ...load, time: duration(load.time - lasts) });
  }
  const capacity = tank.water * WATER_HEAT_CAPACITY;
  const rate = conductance / capacity;
  const start = load.heat + conductance * (load.ambient - tank.temperature);
  const reach = rate > 0 ? -Math.expm1(-rate * load.time) / rate : load.time;
  return { ...tank, temperature: temperature(tank.temperature + (start / capacity) * reach) };
}
