import { at } from '../interpolate.ts';
import { engineSpeedAt, type Rig } from '../rig/rig.ts';
import { coastRun, type RollRun, STEP } from '../rig/roll-run.ts';
import { overrunTorque } from './engine.ts';
import type { Air } from './engine-model.ts';
import type { CoastPlan } from './plan.ts';
import { newTrace, record, type SignalRow, type Trace } from './trace.ts';

const HIGH = 54.4;
const LOW = 14.8;
const IDLE = 950;
/** The roller file shows this much of the steady drive before the clutch opens [s]. */
const RELEASE = 0.5;

/** The run of a coast-down and the engine side of it: driven at a steady speed, then idling with the clutch open, or dragged along without spark. */
export function coast(input: { plan: CoastPlan; rig: Rig; air: Air; from: number; extraDrag: number }): {
  run: RollRun;
  trace: Trace;
} {
  const { plan, rig, air } = input;
  const inGear = plan.clutch === 'in gear';
  const script = {
    from: RELEASE,
    high: HIGH,
    low: LOW,
    extraDrag: input.extraDrag,
    idleSpeed: (IDLE * Math.PI) / 30,
  };
  const dragged = (speed: number): number => overrunTorque((speed * 30) / Math.PI, 34);
  const free = coastRun(rig, inGear ? { ...script, engineTorque: dragged } : script);
  const run = withSteadyStart({ free, from: input.from, rig, inGear });
  return { run, trace: coastTrace({ run, air, inGear }) };
}

/** Puts the steady drive before the free run: the engine just carries the drag, so no force passes to the roll. */
function withSteadyStart(input: { free: RollRun; from: number; rig: Rig; inGear: boolean }): RollRun {
  const { free } = input;
  const count = Math.round((RELEASE - input.from) / STEP);
  const driven = engineSpeedAt(input.rig, HIGH);
  const before = (value: number, rest: Float64Array): Float64Array =>
    Float64Array.from({ length: count + rest.length }, (_, k) => (k < count ? value : at(rest, k - count)));
  // The engine falls to idle in about a second after the clutch opens.
  const falling = free.engineSpeed.map((idle, k) => idle + (driven - idle) * Math.exp((-k * STEP) / 0.45));
  return {
    from: RELEASE - count * STEP,
    tipIn: free.tipIn,
    lift: RELEASE,
    engineSpeed: before(driven, input.inGear ? free.engineSpeed : falling),
    engineTorque: before(0, free.engineTorque),
    engineAcceleration: before(0, free.engineAcceleration),
    tyreSpeed: before(HIGH, free.tyreSpeed),
    rollSpeed: before(HIGH, free.rollSpeed),
    rollAcceleration: before(0, free.rollAcceleration),
    slip: before(0, free.slip),
    tyreForce: before(0, free.tyreForce),
    brakeForce: before(0, free.brakeForce),
  };
}

function coastTrace(input: { run: RollRun; air: Air; inGear: boolean }): Trace {
  const trace = newTrace();
  const { run, air, inGear } = input;
  run.engineSpeed.forEach((speed, k) => {
    const rpm = (speed * 30) / Math.PI;
    const driving = run.from + k * STEP < RELEASE;
    record(trace, driving ? drivingRow(rpm, air) : runningDownRow(rpm, air, inGear));
  });
  return trace;
}

function drivingRow(rpm: number, air: Air): SignalRow {
  return {
    ...runningDownRow(rpm, air, false),
    throttle: 0.18,
    pedal: 0.2,
    map: 70,
    target: 70,
    timing: 30,
    duty: 0.2,
    turbo: 45,
    p3: air.pressure + 14,
    egt: 700,
    load: 0.25,
  };
}

function runningDownRow(rpm: number, air: Air, inGear: boolean): SignalRow {
  return {
    ...NO_EVENTS,
    rpm,
    rpmShown: rpm,
    throttle: inGear ? 0 : 0.03,
    pedal: 0,
    map: inGear ? 34 : 38,
    target: 40,
    boost: air.pressure,
    inlet: air.pressure - 0.05,
    charge: air.temperature + 12,
    turbo: inGear ? 26 : 18,
    p3: air.pressure + 3,
    egt: inGear ? 420 : 480,
    lambdaA: inGear ? 1.4 : 1,
    lambdaB: inGear ? 1.4 : 1,
    lambdaTarget: 1,
    lambdaDelay: 0.35,
    timing: inGear ? 0 : 12,
    duty: inGear ? 0 : 0.018,
    fuelPressure: 350,
    volts: inGear ? 12.9 : 13.7,
    coolantPressure: -6,
  };
}

const NO_EVENTS = {
  wastegate: 0,
  camA: 0,
  camB: 0,
  camTarget: 0,
  sync: 0,
  cut: 0,
  load: 0,
  knock3: 0,
  knock5: 0,
  retard3: 0,
  retard5: 0,
  peakPressure: 0,
  sparkNeed: 0,
  sparkAvailable: 0,
  cleanTorque: 0,
};
