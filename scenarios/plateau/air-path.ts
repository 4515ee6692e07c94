import { compressorPoint } from './compressor.ts';
import type { EnginePoint } from './engine-point.ts';

/** Air and exhaust side of a steady state. air: kg/s; pressures: kPa; temperatures: °C; turboSpeed: krpm; bypass: share of the exhaust past the turbine. */
export interface AirPath {
  readonly air: number;
  readonly chargeTemperature: number;
  readonly turboSpeed: number;
  readonly boost: number;
  readonly inlet: number;
  readonly p3: number;
  readonly bypass: number;
  readonly exhaustTemperature: number;
}

/**
 * Compressor, intercooler and turbine in balance. `fill` tells the air flow [kg/s] for a charge temperature [°C].
 * The charge temperature and the air flow depend on each other: a few rounds of substitution settle them.
 */
export function airPath(point: EnginePoint & { readonly fill: (celsius: number) => number }): AirPath {
  const inlet = point.ambientPressure - inletLoss(point);
  const ambient = point.ambientTemperature;
  let charge = ambient + 25;
  let air = point.fill(charge);
  let boost = point.map;
  let work = { speed: 20, outlet: ambient };
  for (let round = 0; round < 5; round += 1) {
    air = point.fill(charge);
    boost = point.map + intercoolerDrop(air, point.map);
    work = compression({ air, inlet, boost, ambient });
    charge =
      work.outlet - effectiveness(air) * (work.outlet - ambient - HALL_WARMING - point.soak) + (point.extraCharge ?? 0);
  }
  const exhaustTemperature = 880 + 0.018 * (point.rpm - 6500) + 0.25 * (point.map - 180);
  const exhaust = air * (1 + 1 / (10.6 * 0.8));
  const outlet = point.ambientPressure + 9 * (exhaust / 0.29) ** 2;
  const power = (air * CP_AIR * (work.outlet - ambient)) / SHAFT;
  const turbine = turbineBalance({ power, exhaust, outlet, temperature: exhaustTemperature + 273.15 });
  return {
    air,
    chargeTemperature: charge,
    turboSpeed: work.speed * SPEED_CORRECTION,
    boost,
    inlet,
    p3: turbine.p3,
    bypass: turbine.bypass,
    exhaustTemperature,
  };
}

/** The fan of the hall blows air past the radiators first: the intercooler sees it this much warmer than ambient [°C]. Fitted to the clean table. */
const HALL_WARMING = 6.8;
/** What reading speeds between the printed rows of the map leaves out against the clean table [1]. */
const SPEED_CORRECTION = 1.0105;
const CP_AIR = 1005;
const CP_EXHAUST = 1150;
const GAMMA_EXHAUST = 1.33;
const GAS_EXHAUST = 287;
const SHAFT = 0.97;
const TURBINE_AREA = 6.6e-4;
const TURBINE_EFFICIENCY = 0.66;

/** Loss of the air inlet [kPa], more with the dust pre-cleaner. */
export function inletLoss(point: Pick<EnginePoint, 'rpm' | 'map' | 'preCleaner'>): number {
  return (point.preCleaner ? 3.8 : 1.2) * ((point.rpm * point.map) / (6500 * 200)) ** 2;
}

function intercoolerDrop(air: number, map: number): number {
  return 9 * (air / 0.26) ** 2 * (200 / map);
}

function effectiveness(air: number): number {
  return 0.8 - 0.1 * (air / 0.26 - 0.6);
}

function compression(input: { air: number; inlet: number; boost: number; ambient: number }): {
  speed: number;
  outlet: number;
} {
  const kelvin = input.ambient + 273.15;
  const ratio = input.boost / input.inlet;
  const flow = (input.air * Math.sqrt(kelvin / 298)) / (input.inlet / 100);
  const point = compressorPoint(flow, ratio);
  const rise = ratio > 1 ? (kelvin * (ratio ** (2 / 7) - 1)) / point.efficiency : 0;
  return { speed: point.correctedSpeed * Math.sqrt(kelvin / 298), outlet: input.ambient + rise };
}

/** Pressure before the turbine [kPa] at which the nozzle flow just gives the compressor's power; the rest of the exhaust goes past it. */
function turbineBalance(input: { power: number; exhaust: number; outlet: number; temperature: number }): {
  p3: number;
  bypass: number;
} {
  let low = input.outlet;
  let high = input.outlet * 6;
  for (let step = 0; step < 30; step += 1) {
    const middle = (low + high) / 2;
    if (turbinePower(middle, input) < input.power) low = middle;
    else high = middle;
  }
  const p3 = (low + high) / 2;
  return { p3, bypass: Math.max(0, 1 - nozzleFlow(p3, input) / input.exhaust) };
}

function turbinePower(p3: number, input: { outlet: number; temperature: number }): number {
  const drop = 1 - (input.outlet / p3) ** ((GAMMA_EXHAUST - 1) / GAMMA_EXHAUST);
  return nozzleFlow(p3, input) * CP_EXHAUST * input.temperature * TURBINE_EFFICIENCY * drop;
}

function nozzleFlow(p3: number, input: { outlet: number; temperature: number }): number {
  const g = GAMMA_EXHAUST;
  const critical = (2 / (g + 1)) ** (g / (g - 1));
  const ratio = Math.max(critical, Math.min(1, input.outlet / p3));
  const psi = Math.sqrt(((2 * g) / (g - 1)) * (ratio ** (2 / g) - ratio ** ((g + 1) / g)));
  return ((TURBINE_AREA * p3 * 1e3) / Math.sqrt(GAS_EXHAUST * input.temperature)) * psi;
}
