import { clamp } from '../interpolate.ts';
import { fillingOf, GAS } from './air.ts';
import type { Asked } from './asked.ts';
import { type Breath, breathe, camTarget, surgeFactor } from './breathing.ts';
import { type Burn, burn } from './burning.ts';
import { frictionPressure, HEAT_PER_AIR } from './engine.ts';
import { type Fed, feed, workOfLambda } from './feeding.ts';
import type { SignalRow } from './signals.ts';
import type { EngineState } from './state.ts';

/** One step of the engine: air, fuel, spark, work, heat; answers every signal. */
export function engineStep(state: EngineState, asked: Asked): SignalRow {
  const { engine } = state;
  const { knobs } = asked;
  state.time = asked.time;
  state.volts = engine.volts - (0.1 * asked.speed) / engine.redline + knobs.volts;
  const breath = breathe(state, asked);
  const fed = feed(state, asked);
  const burnt = burn(state, asked, fed);
  const torque = torqueOf(state, asked, { fed, burnt });
  warm(state, asked, { fed, burnt });
  count(state, asked);
  return rowOf(state, asked, { breath, fed, burnt, ...torque });
}

/** Manifold pressure at which a speed gives a torque, roughly [Pa]. */
export function pressureFor(state: EngineState, { torque, speed }: { torque: number; speed: number }): number {
  const { engine } = state;
  const rpm = (speed * 30) / Math.PI;
  const wanted = torque + (frictionPressure(rpm) * engine.displacement) / (4 * Math.PI);
  const part = engine.ignition === 'compression' ? 1 / 2.4 : 0.93;
  const perPascal =
    (fillingOf(engine, speed) * engine.displacement * HEAT_PER_AIR * engine.efficiency * part) /
    (4 * Math.PI * GAS * state.charge);
  return wanted / perPascal;
}

/** Crank torque by heat, friction and gas exchange [N·m]. clean: with the mapped timing and mixture and every firing. */
function torqueOf(
  state: EngineState,
  { speed, stage, knobs }: Asked,
  { fed, burnt }: { fed: Fed; burnt: Burn },
): { torque: number; clean: number } {
  const { engine } = state;
  const rpm = (speed * 30) / Math.PI;
  const swept = engine.displacement / (4 * Math.PI);
  const heat = (state.airFlow * HEAT_PER_AIR * engine.efficiency * knobs.luck) / Math.max(20, speed);
  const late = (timing: number): number => 1 - 5e-4 * clamp(burnt.best - timing, -10, 30) ** 2;
  const exchange = 0.75 * (state.exhaustPressure - state.map) * swept;
  const friction = frictionPressure(rpm) * swept;
  const fired = stage === 'overrun' ? 0 : 1;
  const work = workOfLambda(engine.ignition, fed.lambda) * late(burnt.timing) * state.work * (1 - knobs.hiddenLoss);
  const clean = workOfLambda(engine.ignition, fed.target) * late(burnt.clean) * state.cleanWork;
  return {
    torque: heat * work * fired - friction * knobs.friction - exchange,
    clean: heat * clean * fired - friction - exchange,
  };
}

/** Temperatures of exhaust, oil, coolant and gears. @source slopes in a pull: common practice, no source */
function warm(state: EngineState, { stage, dt, knobs }: Asked, { fed, burnt }: { fed: Fed; burnt: Burn }): void {
  const { engine, place } = state;
  const full = stage === 'full' ? 1 : 0;
  const spark = engine.ignition === 'spark';
  const load = clamp(state.map / Math.max(engine.target, 1e5), 0.3, 1.2);
  const hot = spark
    ? engine.exhaustBase +
      190 * load +
      9 * clamp(burnt.best - burnt.timing, -5, 25) +
      600 * (fed.lambda - fed.target) -
      260 * state.missed
    : engine.exhaustBase + 400 * load * (engine.lambdaFull / Math.max(1, fed.lambda));
  const gas = stage === 'overrun' ? 700 : full ? hot + knobs.exhaustHeat : spark ? 900 : 600;
  state.exhaust += ((clamp(gas, 500, 1500) - state.exhaust) * dt) / 0.5;
  state.oil += (full ? 0.35 : -0.01) * dt;
  state.coolant += (full ? 0.22 : -0.05 * (state.coolant > 358 ? 1 : 0)) * dt;
  state.gearbox += (full ? 0.12 : 0.01) * dt;
  state.axle += (full ? 0.16 : 0.01) * dt;
  state.soak += (full ? 0.25 : -0.02 * state.soak) * dt;
  if (!engine.turbo)
    state.exhaustPressure = place.pressure + (engine.exhaustDrop + knobs.exhaustDrop) * state.airFlow ** 2;
}

/** Counter of sync errors and what the control unit takes for the speed. */
function count(state: EngineState, { knobs, speed }: Asked): void {
  if (knobs.lost && !state.lostBefore) state.sync += state.slow.integer(1, 3);
  state.lostBefore = knobs.lost;
  if (!knobs.lost) state.shown = speed;
  else if (knobs.lostShows !== 1) state.shown = knobs.lostShows * speed;
}

function rowOf(
  state: EngineState,
  asked: Asked,
  made: { breath: Breath; fed: Fed; burnt: Burn; torque: number; clean: number },
): SignalRow {
  const { engine, place } = state;
  const { knobs, speed } = asked;
  const { breath, fed, burnt } = made;
  const rpm = (speed * 30) / Math.PI;
  const open = engine.oil.base + engine.oil.perSpeed * speed;
  const oilPressure = engine.oil.relief * 1.15 * (1 - Math.exp(-open / engine.oil.relief));
  const surge = surgeFactor(asked);
  const blow = 0.3e3 + engine.blowBy * (state.map / 2e5) * (rpm / 5000);
  return {
    engineSpeed: speed,
    engineTorque: made.torque,
    cleanTorque: made.clean,
    shownSpeed: state.shown,
    map: state.map,
    target: breath.target,
    boost: state.boost * surge,
    inlet: breath.inlet,
    exhaustPressure: state.exhaustPressure,
    charge: state.charge,
    outlet: state.outlet,
    turbo: state.turbo * (1 + 0.2 * (surge - 1)),
    duty: state.duty,
    airFlow: state.airFlow,
    throttle: breath.throttle,
    lambda: fed.lambda * (1 + 0.9 * state.missed),
    lambdaTarget: fed.target,
    lambdaDelay: clamp(0.045 + 0.0028 / Math.max(0.005, state.airFlow / engine.displacement / 30), 0.05, 0.4),
    pulse: fed.pulse,
    injectorDuty: fed.duty,
    rail: fed.difference,
    fuelFlow: fed.flow,
    timing: burnt.timing,
    dwell: burnt.dwell,
    coilCurrent: burnt.current,
    volts: state.volts,
    knockLevel: state.knockLevel,
    knockRetard: Math.max(...state.retard),
    knockCount: state.knockCount,
    camTarget: camTarget(state, asked),
    cam: state.cam,
    coolant: state.coolant + knobs.coolantHeat,
    oil: state.oil + knobs.oilHeat,
    gearbox: state.gearbox + knobs.gearHeat,
    axle: state.axle + knobs.axleHeat,
    exhaust: state.exhaust,
    coolantPressure: engine.coolantPressure + 2.5e3 * (state.coolant + knobs.coolantHeat - 360) + knobs.coolantPressure,
    oilPressure: oilPressure * (1 - 0.012 * (state.oil + knobs.oilHeat - 373)) * knobs.oilPressure,
    crankcase: blow + knobs.crankcase * clamp(state.map / Math.max(engine.target, place.pressure), 0.2, 1.2),
    sync: state.sync,
    cut: knobs.cut > 0 ? 1 : 0,
    need: burnt.need,
    supply: burnt.supply,
    missed: state.missed,
    phase: state.phase,
    wheelSpeed: Number.NaN,
  };
}
