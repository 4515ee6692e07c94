import { clamp, easeBetween, lineAt } from '../interpolate.ts';
import { fillingOf, GAS } from './air.ts';
import type { Asked } from './asked.ts';
import type { EngineState } from './state.ts';
import { compression, expansion, type Turbo } from './turbo.ts';

/** Air side of one step. inlet, target, exhaustDown: Pa. */
export interface Breath {
  readonly inlet: number;
  readonly target: number;
  readonly throttle: number;
}

/** Moves the charge from the filter to the cylinders and turns the turbocharger. */
export function breathe(state: EngineState, asked: Asked): Breath {
  const { engine, place } = state;
  const { knobs } = asked;
  const inlet = place.pressure - (0.25 * engine.exhaustDrop + knobs.inletDrop) * state.airFlow ** 2;
  const target = engine.target > 0 ? engine.target + knobs.mapTarget : 0;
  if (engine.turbo) charge(state, asked, { turbo: engine.turbo, inlet, target });
  else {
    state.boost = inlet;
    state.outlet = place.temperature;
    state.charge += ((place.temperature + 9 + state.soak + knobs.soak - state.charge) * asked.dt) / 0.4;
  }
  const throttle = throttleOf(asked);
  const wanted = manifoldWanted(state, asked, state.boost * surgeFactor(asked));
  state.map += ((wanted - state.map) * asked.dt) / (asked.stage === 'full' ? 0.03 : 0.07);
  const retained = 1 - 0.06 * clamp(state.exhaustPressure / state.map - 1, -0.3, 2);
  const cam = 1 - 1.2e-4 * (camTarget(state, asked) - state.cam) ** 2;
  state.airFlow =
    (fillingOf(engine, asked.speed) * retained * cam * state.map * engine.displacement * asked.speed) /
    (4 * Math.PI * GAS * state.charge);
  moveCam(state, asked);
  return { inlet, target, throttle };
}

/** Factor of the charge pressure while the compressor surges [1]. */
export function surgeFactor({ knobs, time }: Asked): number {
  return 1 + knobs.surge * Math.sin(2 * Math.PI * knobs.surgeHertz * time);
}

/** Where the inlet cam should be [°]: early in the middle of the speed range, at rest near the redline. */
export function camTarget({ engine }: EngineState, { speed, stage }: Asked): number {
  const share = speed / engine.redline;
  const shape = easeBetween(0.2, 0.4, share) * (1 - easeBetween(0.55, 0.95, share));
  return engine.cams.rest + engine.cams.most * shape * (stage === 'full' ? 1 : 0.4);
}

function charge(
  state: EngineState,
  asked: Asked,
  { turbo, inlet, target }: { turbo: Turbo; inlet: number; target: number },
): void {
  const { engine, place } = state;
  const { knobs, dt } = asked;
  control(state, asked, { turbo, target });
  const gauge = clamp((state.boost - place.pressure) / (target - place.pressure), 0, 2);
  // A hole loses the same flow at a pressure, whatever the engine takes: its share falls with engine speed.
  const share = clamp((0.7 * engine.redline) / asked.speed, 0.5, 3);
  const flow = state.airFlow * (1 + Math.min(1.5, knobs.leak * share) * Math.sqrt(gauge));
  const wheel = { tip: turbo.tip, best: turbo.best, throat: knobs.throat };
  const pressed = compression(wheel, { speed: state.turbo, flow, temperature: place.temperature, pressure: inlet });
  const boost = Math.max(0.8 * inlet, inlet * pressed.ratio - turbo.coolerDrop * flow ** 2);
  state.boost += ((boost - state.boost) * dt) / 0.05;
  state.outlet += ((pressed.outlet - state.outlet) * dt) / 0.05;
  const sink = place.temperature + state.soak + knobs.soak;
  const cooled = state.outlet - turbo.effectiveness * knobs.effectiveness * (state.outlet - sink) + 4;
  state.charge += ((cooled - state.charge) * dt) / 0.3;
  const exhaustFlow = state.airFlow * (1 + 1 / (engine.lambdaFull * engine.stoichiometric));
  const drop = engine.exhaustDrop + knobs.exhaustDrop;
  const expanded = expansion(
    { turbine: turbo.turbine, turbineEfficiency: turbo.turbineEfficiency * knobs.turbineEfficiency },
    {
      flow: exhaustFlow,
      temperature: state.exhaust,
      downstream: place.pressure + drop * exhaustFlow ** 2,
      gateArea: turbo.gate * state.gate,
    },
  );
  state.exhaustPressure = expanded.upstream;
  const bearing = 2e-3 * turbo.inertia * state.turbo ** 2;
  state.turbo += ((expanded.power - pressed.power - bearing) * dt) / (turbo.inertia * state.turbo);
  state.turbo = clamp(state.turbo, 60 / turbo.tip, 650 / turbo.tip);
}

/** Closed loop on the manifold pressure: mapped gate opening, proportional, integral and rate, held back while the turbocharger spools. */
function control(state: EngineState, asked: Asked, { turbo, target }: { turbo: Turbo; target: number }): void {
  const { knobs, dt } = asked;
  if (asked.stage === 'full') {
    const rate = (0.988 * state.boost - state.map) / 0.03 / target;
    const error = (target - state.map) / target - 0.07 * clamp(rate, -1, 1);
    if (error > 0.05) state.integral = 0;
    else state.integral = clamp(state.integral + 5 * error * dt, -0.5, 0.5);
    const share = asked.speed / state.engine.redline;
    const mapped = 1 - lineAt(turbo.mapped.share, turbo.mapped.open, share);
    state.duty = clamp(error > 0.05 ? 1 : mapped + 3 * error + state.integral, 0, 1);
  } else {
    state.duty = 0;
    state.integral = 0;
  }
  const open = Math.max(
    knobs.gateLeast,
    Math.min(knobs.gateMost, clamp(1 - state.duty + knobs.gateExtra, 0, 1)) * knobs.gateLimit,
  );
  state.gate += ((open - state.gate) * dt) / knobs.gateLag;
}

function throttleOf({ stage, sinceTipIn }: Asked): number {
  if (stage === 'full') return 0.2 + 0.8 * easeBetween(0, 0.15, sinceTipIn);
  return stage === 'hold' ? 0.2 : 0.01;
}

/** Manifold pressure that the throttle lets through [Pa]; a hold takes what the torque asked for needs. */
function manifoldWanted(state: EngineState, asked: Asked, upstream: number): number {
  const { place } = state;
  if (asked.stage === 'full') {
    const open = easeBetween(0, 0.15, asked.sinceTipIn);
    return state.map + (0.988 * upstream - state.map) * open;
  }
  if (asked.stage === 'overrun' || asked.stage === 'idle') return 0.34 * place.pressure;
  return clamp(asked.holdingPressure, 0.28 * place.pressure, 0.94 * upstream);
}

function moveCam(state: EngineState, asked: Asked): void {
  const { slew } = state.engine.cams;
  const wanted = camTarget(state, asked) - asked.knobs.camError;
  const step = slew * asked.knobs.camSlew * asked.dt;
  state.cam += clamp((wanted - state.cam) * Math.min(1, asked.dt / 0.06), -step, step);
}
