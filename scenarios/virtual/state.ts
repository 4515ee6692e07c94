import { type Chance, chanceOf } from '../random.ts';
import type { SimplePlace } from '../simple/draw.ts';
import type { Stage } from './asked.ts';
import type { VirtualEngine } from './engine.ts';

/** Temperatures with which a run begins [K]. soak: of the charge cooler above the air. */
export interface Warmth {
  readonly oil: number;
  readonly coolant: number;
  readonly gearbox: number;
  readonly axle: number;
  readonly soak: number;
}

/** What an engine carries from step to step. SI, angles in degrees. */
export interface EngineState {
  readonly engine: VirtualEngine;
  readonly place: SimplePlace;
  readonly firing: Chance;
  readonly slow: Chance;
  readonly knockSpread: readonly number[];
  readonly knockBase: readonly number[];
  readonly retard: Float64Array;
  /** Factor of spark supply so that the clean engine has its margin [V]. */
  readonly supplyGain: number;
  map: number;
  boost: number;
  turbo: number;
  gate: number;
  duty: number;
  integral: number;
  charge: number;
  outlet: number;
  exhaust: number;
  exhaustPressure: number;
  airFlow: number;
  oil: number;
  coolant: number;
  gearbox: number;
  axle: number;
  soak: number;
  cam: number;
  phase: number;
  cylinder: number;
  burst: number;
  work: number;
  cleanWork: number;
  missed: number;
  knockCount: number;
  knockLevel: number;
  volts: number;
  shown: number;
  sync: number;
  lostBefore: boolean;
  stage: Stage;
  time: number;
}

/** An engine idling along in front of the first step. purpose: names its streams of chance. */
export function startedEngine(input: {
  engine: VirtualEngine;
  place: SimplePlace;
  warmth: Warmth;
  seed: number;
  purpose: string;
  supplyGain: number;
}): EngineState {
  const { engine, place, warmth, seed } = input;
  const nature = chanceOf(seed, 'virtual cylinders');
  const cylinders = Array.from({ length: engine.cylinders }, () => nature);
  return {
    engine,
    place,
    firing: chanceOf(seed, `${input.purpose} firing`),
    slow: chanceOf(seed, `${input.purpose} slow`),
    knockSpread: cylinders.map((chance) => 0.4 * chance.normal()),
    knockBase: cylinders.map((chance) => 1 + 0.08 * chance.normal()),
    retard: new Float64Array(engine.cylinders),
    supplyGain: input.supplyGain,
    map: 0.45 * place.pressure,
    boost: place.pressure,
    turbo: engine.turbo ? 120 / engine.turbo.tip : 0,
    gate: 0,
    duty: 1,
    integral: 0,
    charge: place.temperature + 12,
    outlet: place.temperature,
    exhaust: 800,
    exhaustPressure: place.pressure,
    airFlow: 1e-3,
    oil: warmth.oil,
    coolant: warmth.coolant,
    gearbox: warmth.gearbox,
    axle: warmth.axle,
    soak: warmth.soak,
    cam: 0,
    phase: 0,
    cylinder: 0,
    burst: 0,
    work: 1,
    cleanWork: 1,
    missed: 0,
    knockCount: 0,
    knockLevel: 0.3,
    volts: engine.volts,
    shown: 0,
    sync: 0,
    lostBefore: false,
    stage: 'hold',
    time: 0,
  };
}
