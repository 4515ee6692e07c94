import type { Chance } from '../random.ts';
import { drawEngine, type SimpleEngine, type SimplePlace } from '../simple/draw.ts';
import { flowOf } from './air.ts';
import { sizedTurbo, type Turbo } from './turbo.ts';

export type Fuel = 'petrol' | 'ethanol blend' | 'methane' | 'diesel';

/**
 * An engine by its parts. SI, crank angles in degrees; timing before top dead centre.
 * filling: volumetric efficiency at its best [1]; efficiency: indicated, of the heat that the air can burn [1].
 * target: manifold pressure asked for [Pa], 0 without boost; injector: fuel through all injectors at the set pressure difference [kg/s].
 */
export interface VirtualEngine extends SimpleEngine {
  readonly fuel: Fuel;
  readonly stoichiometric: number;
  readonly lambdaFull: number;
  readonly compression: number;
  readonly filling: number;
  readonly efficiency: number;
  readonly target: number;
  readonly turbo: Turbo | undefined;
  readonly railSet: number;
  readonly injector: number;
  readonly deadTime: number;
  readonly knockMargin: number;
  readonly coil: { readonly dwell: number; readonly resistance: number; readonly inductance: number };
  readonly gap: number;
  readonly volts: number;
  readonly cams: { readonly rest: number; readonly most: number; readonly slew: number };
  readonly exhaustDrop: number;
  /** Exhaust gas at no load [K]. */
  readonly exhaustBase: number;
  readonly oil: { readonly base: number; readonly perSpeed: number; readonly relief: number };
  readonly blowBy: number;
  readonly coolantPressure: number;
  readonly firingScatter: number;
}

/** Air per fuel [kg/kg] and lambda at full load. @source handbook values from memory; full-load lambda: common practice, no source */
const FUELS: Readonly<Record<Fuel, { stoichiometric: number; low: number; high: number }>> = {
  petrol: { stoichiometric: 14.6, low: 0.8, high: 0.86 },
  'ethanol blend': { stoichiometric: 9.8, low: 0.8, high: 0.87 },
  methane: { stoichiometric: 17.2, low: 0.96, high: 1.02 },
  diesel: { stoichiometric: 14.5, low: 1.2, high: 1.4 },
};

/** Heat that a kilogram of air can burn [J/kg]. @source 2.9–3.0 MJ/kg for all usual fuels, from memory */
export const HEAT_PER_AIR = 2.95e6;

/** An engine at a place, sized so that it makes about its power. What is given stays. */
export function drawVirtualEngine(chance: Chance, given: Partial<SimpleEngine>, place: SimplePlace): VirtualEngine {
  const simple = drawEngine(chance, given);
  const spark = simple.ignition === 'spark';
  const boosted = simple.boosted || (!spark && given.boosted === undefined);
  const roll = chance.uniform();
  const fuel: Fuel = !spark ? 'diesel' : roll < 0.68 ? 'petrol' : roll < 0.88 ? 'ethanol blend' : 'methane';
  const { stoichiometric, low, high } = FUELS[fuel];
  const gauge = chance.between(45e3, 150e3);
  const target = boosted ? Math.min(100e3 + gauge, 2.5 * place.pressure) : 0;
  const oilTop = chance.between(350e3, 520e3);
  const base = {
    ...simple,
    boosted,
    fuel,
    stoichiometric,
    lambdaFull: chance.between(low, high),
    compression: spark ? (boosted ? chance.between(8.5, 10.5) : chance.between(10, 12.5)) : chance.between(15.5, 18),
    filling: boosted ? chance.between(0.88, 0.98) : chance.between(0.9, 1.05),
    efficiency: spark ? chance.between(0.36, 0.41) : chance.between(0.43, 0.48),
    target,
    railSet: chance.between(300e3, 450e3),
    deadTime: chance.between(0.7e-3, 1.2e-3),
    knockMargin: chance.between(3, 5),
    coil: {
      dwell: chance.between(2.4e-3, 3.4e-3),
      resistance: chance.between(0.4, 0.6),
      inductance: chance.between(2e-3, 3e-3),
    },
    gap: boosted ? chance.between(0.5, 0.75) : chance.between(0.7, 1.0),
    exhaustBase: spark ? chance.between(840, 930) : chance.between(530, 600),
    volts: chance.between(13.6, 14.4),
    cams: { rest: 0, most: chance.between(20, 40), slew: chance.between(60, 160) },
    oil: { base: chance.between(90e3, 150e3), perSpeed: oilTop / (0.8 * simple.redline), relief: oilTop },
    blowBy: chance.between(0.6e3, 1.6e3),
    coolantPressure: chance.between(60e3, 110e3),
    firingScatter: spark ? chance.between(0.012, 0.03) : chance.between(0.008, 0.015),
  };
  const displacement = given.displacement ?? displacementFor(base);
  const flow = flowOf({ ...base, displacement }, 0.95 * simple.redline, target || place.pressure);
  return {
    ...base,
    displacement,
    injector: flow / (base.lambdaFull * stoichiometric) / chance.between(0.62, 0.78),
    exhaustDrop: chance.between(4e3, 12e3) / flow ** 2,
    turbo: boosted ? sizedTurbo({ ...base, displacement }, place, chance) : undefined,
  };
}

/** Displacement [m³] with which the engine makes its power at nine tenths of the redline, sea-level air without boost. */
function displacementFor(engine: Omit<VirtualEngine, 'displacement' | 'turbo' | 'injector' | 'exhaustDrop'>): number {
  const speed = 0.88 * engine.redline;
  const flow = flowOf({ ...engine, displacement: 1e-3 }, speed, engine.target || 98e3);
  const heat = engine.ignition === 'spark' ? HEAT_PER_AIR : HEAT_PER_AIR / engine.lambdaFull;
  const rpm = (speed * 30) / Math.PI;
  const friction = (frictionPressure(rpm) * 1e-3 * speed) / (4 * Math.PI);
  return (1e-3 * engine.power) / (flow * heat * engine.efficiency * 0.96 - friction);
}

/** Friction as a mean effective pressure [Pa] at an engine speed [1/min]. @source shape and size common practice, no source */
export function frictionPressure(rpm: number): number {
  const k = rpm / 1000;
  return 45e3 + 8e3 * k + 0.7e3 * k * k;
}
