import { tankAfter, WATER_HEAT_CAPACITY, type WaterTank, withIce } from '../../../core/physics/index.ts';
import { duration, mass, power, temperature } from '../../../core/quantities/index.ts';

type Numbers = Readonly<Record<string, number>>;

/** What the cooler must know of a question, SI; as in the query of an operating point. */
export interface CoolantQuery {
  readonly speed: number;
  readonly ambientTemperature: number;
  readonly soak: number | undefined;
  readonly loadTime: number;
  readonly water?: number | undefined;
  readonly ice?: number | undefined;
}

/** Where the charge stands before the cooler, SI. effectiveness: on the charge side [1]; heatFlow: air flow times heat capacity [W/K]. */
export interface ChargeBefore {
  readonly temperature: number;
  readonly effectiveness: number;
  readonly heatFlow: number;
}

/** How the flow grows from the start of the load on, as a share of the redline [1]. @source our default: pulls begin near a third of the redline */
const FIRST_SHARE = 0.33;

/** Scatter of the charge cooler's warmth from pull to pull [K] and how many pulls' worth that is believed. @source common practice, no source: a pause more or less; weight: our default */
export const USUAL_SOAK_SCATTER = { kelvin: 4, pulls: 4 } as const;

/** Is there a tank of water between charge and air. */
export function isWaterCooled({ coolerWater }: Numbers): boolean {
  return coolerWater > 0;
}

/**
 * What cools the charge above the air outside, as it meets the cooler [K]; below zero with ice.
 *
 *     air to air      θ = θ0 + q·t
 *     water to air    θ = Ttank(t) − Ta + θ0 + q·t          tank warmed by the charge for t, flow growing with speed
 *
 * A stated warming holds for the whole pull. θ0 and q are those of the day's pulls, before any pull those of the trade.
 *
 * @source  tank: {@link tankAfter}; θ0, q: parameters of the calibration
 */
export function coolantRise(numbers: Numbers, query: CoolantQuery, charge: ChargeBefore): number {
  if (query.soak !== undefined) return query.soak;
  const own = numbers.soakStart + numbers.soakRate * query.loadTime;
  if (!isWaterCooled(numbers)) return own;
  const cold = startTank(numbers, query);
  const share = Math.min(1, 0.5 * (1 + (FIRST_SHARE * numbers.redline) / query.speed));
  const heat = (at: number): number =>
    Math.max(0, charge.effectiveness * charge.heatFlow * (charge.temperature - at)) * share;
  const first = warmed(cold, { numbers, query, heat: heat(cold.temperature) });
  const last = warmed(cold, { numbers, query, heat: heat((cold.temperature + first.temperature) / 2) });
  return last.temperature - query.ambientTemperature + own;
}

/** Water and ice when the load begins: as the step says, else as stated, else as warm as the air outside. */
export function startTank(
  numbers: Numbers,
  query: Pick<CoolantQuery, 'ambientTemperature' | 'water' | 'ice'>,
): WaterTank {
  const stated = query.water ?? numbers.coolerWaterTemperature;
  const warm = Number.isFinite(stated) ? stated : query.ambientTemperature;
  const ice = query.ice ?? (Number.isFinite(numbers.coolerIce) ? numbers.coolerIce : 0);
  const capacity = numbers.coolerWater * WATER_HEAT_CAPACITY;
  const tank: WaterTank = {
    water: mass(numbers.coolerWater),
    temperature: temperature(warm),
    ice: mass(0),
    conductance: capacity / numbers.coolerTimeConstant,
  };
  return ice > 0 ? withIce(tank, mass(ice)) : tank;
}

interface Load {
  readonly numbers: Numbers;
  readonly query: Pick<CoolantQuery, 'ambientTemperature' | 'loadTime'>;
  readonly heat: number;
}

function warmed(tank: WaterTank, { query, heat }: Load): WaterTank {
  const time = duration(Math.max(0, query.loadTime));
  return tankAfter(tank, { heat: power(heat), ambient: temperature(query.ambientTemperature), time });
}

/**
 * Effectiveness that the coolant's flow can carry [1]: no more than its capacity flow over that of the charge.
 *
 * @source  energy balance: chargeSideEffectiveness with an endless core
 */
export function carried(effectiveness: number, { coolerPumpFlow }: Numbers, heatFlow: number): number {
  if (!(coolerPumpFlow > 0)) return effectiveness;
  return Math.min(effectiveness, (coolerPumpFlow * WATER_DENSITY * WATER_HEAT_CAPACITY) / heatFlow);
}

/** Of water [kg/m³]. @source CRC Handbook of Chemistry and Physics: 998 at 20 °C (from memory) */
const WATER_DENSITY = 998;
