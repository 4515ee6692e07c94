import { clamp, lineAt } from '../interpolate.ts';
import { airPath } from './air-path.ts';
import type { EnginePoint } from './engine-point.ts';

/** What the engine then does. torque: N·m; flows: kg/s; pressures: kPa; temperatures: °C; turboSpeed: krpm; duty: fraction; angles: °CA before top dead centre. */
export interface EngineState {
  readonly torque: number;
  readonly air: number;
  readonly fuel: number;
  readonly chargeTemperature: number;
  readonly turboSpeed: number;
  readonly boost: number;
  readonly inlet: number;
  readonly p3: number;
  readonly bypass: number;
  readonly exhaustTemperature: number;
  readonly duty: number;
  readonly timing: number;
  readonly baseTiming: number;
  readonly bestTiming: number;
  readonly knockLimit: number;
  readonly volumetric: number;
}

/** The invented engine: flat six, two banks, 83.0 × 76.4 mm. SI unless the name says otherwise. */
export const ENGINE = {
  displacement: 2.48e-3,
  stroke: 0.0764,
  rod: 0.14,
  compressionRatio: 9.6,
  stoichiometric: 10.6,
  lambda: 0.8,
  injectorFlow: 6 * 6.4e-3,
  injectorPressure: 350,
  inertia: 0.16,
} as const;

const VE_SPEEDS = [2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 6500, 7000];
const VE = [0.84, 0.87, 0.905, 0.935, 0.955, 0.97, 0.98, 0.985, 0.975, 0.955, 0.925];
const GAS = 287.05;

/** Relative change of the cylinder filling by the inlet cam phase [1], for the phase of one bank [°CA]. */
export function phaseEffect(rpm: number, phase: number): number {
  const share = phase / 6;
  const middle = 0.03 * Math.exp(-(((rpm - 3800) / 900) ** 2)) * share;
  const top = 0.018 * share * clamp((rpm - 5500) / 1500, 0, 1);
  return middle - top - 0.012 * share * share;
}

/** Cylinder filling against manifold density [1], mean of both banks. */
export function volumetricEfficiency(point: Pick<EnginePoint, 'rpm' | 'phaseA' | 'phaseB'>): number {
  const effect = (phaseEffect(point.rpm, point.phaseA) + phaseEffect(point.rpm, point.phaseB)) / 2;
  return lineAt(VE_SPEEDS, VE, point.rpm) * (1 + effect);
}

/** Knock limit of the timing [°CA]. */
export function knockLimit(rpm: number, map: number, charge: number): number {
  return 19.5 - 0.095 * (map - 160) - 0.06 * (charge - 45) - (rpm > 3200 && rpm < 4100 ? 0.9 : 0);
}

/** Timing of best torque [°CA]. */
export function bestTiming(rpm: number, map: number): number {
  return 22 - 0.075 * (map - 160) + 0.0016 * (rpm - 3500);
}

/** Torque factor of the timing [1]; 1 at the timing of best torque. */
export function timingFactor(best: number, timing: number): number {
  return 1 - 0.0005 * (best - timing) ** 2;
}

/** Friction and throttle-closed pumping, as a negative torque [N·m], for the engine driven without fuel. */
export function overrunTorque(rpm: number, map: number): number {
  const pumping = 0.15 + Math.max(0, 95 - map) / 100;
  return -((friction(rpm, map) + pumping) * 1e5 * ENGINE.displacement) / (4 * Math.PI);
}

/** Everything the engine does in a steady state at this point. */
export function engineState(point: EnginePoint): EngineState {
  const volumetric = volumetricEfficiency(point);
  const fill = (celsius: number): number =>
    (volumetric * point.map * 1e3 * ENGINE.displacement * point.rpm) / (120 * GAS * (celsius + 273.15));
  const path = airPath({ ...point, fill });
  const charge = path.chargeTemperature;
  const best = bestTiming(point.rpm, point.map);
  const limit = knockLimit(point.rpm, point.map, charge);
  const base = Math.min(limit - 1, best);
  const timing = base + point.timing;
  // The heat release figure belongs to the base timing, so only the difference from it counts.
  const factor = timingFactor(best, timing) / timingFactor(best, base);
  const indicated = path.air * 2970e3 * 0.385 * factor;
  const pumping = ((path.p3 - point.map) / 100) * 0.75 + 0.15;
  const lost = ((friction(point.rpm, point.map) + pumping) * 1e5 * ENGINE.displacement * point.rpm) / 120;
  const fuel = path.air / (ENGINE.stoichiometric * ENGINE.lambda);
  return {
    ...path,
    torque: (indicated - lost) / ((point.rpm * Math.PI) / 30),
    fuel,
    duty: fuel / ENGINE.injectorFlow,
    timing,
    baseTiming: base,
    bestTiming: best,
    knockLimit: limit,
    volumetric,
  };
}

/** Friction mean pressure [bar]. */
function friction(rpm: number, map: number): number {
  return 0.62 + (0.052 * 2 * ENGINE.stroke * rpm) / 60 + 0.0004 * map;
}
