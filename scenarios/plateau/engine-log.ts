import { clockText } from '../day-text.ts';
import { at, clamp } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import { type LogColumn, type LogDialect, lagged, logBytes, logText } from '../rig/log-text.ts';
import { type Rig, radiusAt } from '../rig/rig.ts';
import { type RollRun, STEP } from '../rig/roll-run.ts';
import type { MadeFile } from '../truth.ts';
import type { PullFaults } from './faults.ts';
import type { Heat } from './heat.ts';
import type { Signal, Trace } from './trace.ts';

/** What the engine log of a run is made from. clock: t_engine = offset + (1 + rate)·t_roller; end: s on the roller's clock. */
export interface EngineLogInput {
  readonly name: string;
  readonly rig: Rig;
  readonly run: RollRun;
  readonly trace: Trace;
  readonly faults: PullFaults;
  readonly heat: Heat;
  readonly clock: { readonly offset: number; readonly rate: number };
  readonly end: number;
  /** What the laptop shows at the first row [s of the day]. */
  readonly started: number;
  readonly dialect: LogDialect;
  readonly noise: Chance | undefined;
}

const HERTZ = 100;

/** The engine log of one run. */
export function engineLog(input: EngineLogInput): MadeFile {
  const { run, clock, dialect } = input;
  const last = input.trace.rpm.length - 1;
  const count = Math.floor((clock.offset + input.end * (1 + clock.rate)) * HERTZ) + 1;
  const text = logText({
    preamble: [
      `Engine log of 2041-09-12 ${clockText(input.started)}, invented data: no real engine, vehicle or person`,
    ],
    firstNames: [{ name: 'Time', unit: 's' }],
    columns: columnsOf(input),
    unitRow: true,
    dialect,
    rows: {
      count,
      hertz: HERTZ,
      placeOf: (logTime) => {
        const time = (logTime - clock.offset) / (1 + clock.rate);
        return { time, index: clamp(Math.round((time - run.from) / STEP), 0, last) };
      },
      first: (row) => (row / HERTZ).toFixed(2).replace('.', dialect.decimal),
    },
  });
  return { name: input.name, bytes: logBytes(text, dialect) };
}

type Column = readonly [name: string, unit: string, decimals: number, hertz: number, read: LogColumn['read']];

function columnsOf(input: EngineLogInput): LogColumn[] {
  const tools = toolsOf(input);
  const columns: readonly Column[] = [
    ...airColumns(input, tools),
    ...fuelAndSparkColumns(input, tools),
    ...bodyColumns(input, tools),
    ...knockColumns(tools),
    ...statusColumns(input, tools),
  ];
  return columns.map(([name, unit, decimals, hertz, read]) => ({ name, unit, decimals, hertz, read }));
}

interface Tools {
  /** Gaussian of this size, 0 without noise. */
  readonly normal: (size: number) => number;
  /** Pulsation at an irregular place of its cycle. */
  readonly pulse: (size: number) => number;
  readonly of: (signal: Signal) => (index: number) => number;
}

function toolsOf({ trace, noise }: EngineLogInput): Tools {
  return {
    normal: noise ? (size) => size * noise.normal() : () => 0,
    pulse: noise ? (size) => size * Math.sin(noise.between(0, 6.2832)) : () => 0,
    of: (signal) => {
      const values = trace[signal];
      return (index) => at(values, index);
    },
  };
}

function stepped(value: number, step: number): number {
  return Math.round(value / step) * step;
}

/** Speed as the control unit shows it: between two steps by the acceleration; frozen or wrong while the crank signal is lost. */
function shownSpeed({ run, trace }: EngineLogInput, { normal }: Tools): LogColumn['read'] {
  return ({ index, time }) => {
    const shown = at(trace.rpmShown, index);
    if (shown !== at(trace.rpm, index)) return shown;
    const since = clamp(time - (run.from + index * STEP), -STEP, STEP);
    const step = index < run.engineAcceleration.length ? at(run.engineAcceleration, index) * since : 0;
    return Math.max(0, shown + (step * 30) / Math.PI + normal(4));
  };
}

function airColumns(input: EngineLogInput, tools: Tools): readonly Column[] {
  const { trace } = input;
  const { normal, pulse, of } = tools;
  const [throttle, pedal, map, target] = [of('throttle'), of('pedal'), of('map'), of('target')];
  const [boost, inlet, turbo, p3, wastegate] = [of('boost'), of('inlet'), of('turbo'), of('p3'), of('wastegate')];
  const charge = lagged(trace.charge, 1.2, STEP);
  const egtA = lagged(trace.egt, 1.2, STEP);
  return [
    ['rpm', 'rpm', 0, 100, shownSpeed(input, tools)],
    ['TPS', '%', 1, 100, ({ index }) => clamp(99.2 * throttle(index) + normal(0.1), 0, 100)],
    ['Pedal', '%', 1, 50, ({ index }) => clamp(100 * pedal(index) + normal(0.05), 0, 100)],
    ['MAP', 'kPa', 1, 100, ({ index }) => map(index) + pulse(3) + normal(0.4)],
    ['MAP target', 'kPa', 0, 20, ({ index }) => target(index)],
    ['Boost pre TB', 'kPa', 1, 50, ({ index }) => boost(index) + pulse(1.5) + normal(0.4)],
    ['Comp inlet P', 'kPa', 2, 20, ({ index }) => inlet(index) + normal(0.12)],
    ['IAT', '°C', 1, 10, ({ index }) => stepped(at(charge, index) + normal(0.15), 0.5)],
    ['Turbo speed', 'krpm', 1, 50, ({ index }) => turbo(index) + normal(0.15)],
    ['WG duty', '%', 1, 50, ({ index }) => clamp(100 * wastegate(index) + normal(0.2), 0, 100)],
    ['Exh P pre turbine', 'kPa', 0, 50, ({ index }) => p3(index) + pulse(5) + normal(1)],
    ['EGT A', '°C', 0, 10, ({ index }) => at(egtA, index) - 28 + normal(1.5)],
    ['EGT B', '°C', 0, 10, ({ index }) => at(egtA, index) - 35 + normal(1.5)],
  ];
}

function fuelAndSparkColumns(
  { trace, faults, noise }: EngineLogInput,
  { normal, pulse, of }: Tools,
): readonly Column[] {
  const lambdaA = lagged(trace.lambdaA, 0.06, STEP);
  const lambdaB = lagged(trace.lambdaB, 0.06, STEP);
  const delay = of('lambdaDelay');
  const late = (values: Float64Array, index: number): number =>
    at(values, clamp(index - Math.round(delay(index) / STEP), 0, values.length - 1));
  const stuck = faults.stuckLambdaA;
  const [target, timing, duty] = [of('lambdaTarget'), of('timing'), of('duty')];
  const [pressure, volts] = [of('fuelPressure'), of('volts')];
  const bias = noise ? { a: 0.002 * noise.normal(), b: 0.002 * noise.normal() } : { a: 0, b: 0 };
  return [
    ['Lambda A', '-', 3, 50, ({ index }) => stuck ?? clamp(late(lambdaA, index) + bias.a + normal(0.003), 0.65, 1.4)],
    ['Lambda B', '-', 3, 50, ({ index }) => clamp(late(lambdaB, index) + bias.b + normal(0.003), 0.65, 1.4)],
    ['Lambda target', '-', 3, 20, ({ index }) => target(index)],
    ['Ign A', '°', 1, 100, ({ index }) => stepped(timing(index), 0.1)],
    ['Ign B', '°', 1, 100, ({ index }) => stepped(timing(index), 0.1)],
    ['Dwell', 'ms', 2, 50, () => 3],
    ['Batt', 'V', 2, 20, ({ index }) => volts(index) + normal(0.03)],
    ['Inj duty', '%', 1, 100, ({ index }) => Math.max(0, 100 * duty(index) + normal(0.25))],
    ['Fuel dP', 'kPa', 0, 50, ({ index }) => pressure(index) + pulse(6) + normal(2)],
  ];
}

function bodyColumns(input: EngineLogInput, { normal, pulse, of }: Tools): readonly Column[] {
  const { heat, run } = input;
  const [load, rpm, coolant] = [of('load'), of('rpm'), of('coolantPressure')];
  const since = (time: number): number => (Number.isFinite(run.tipIn) ? time - run.tipIn : 0);
  const oil = (time: number): number => heat.oil + 0.35 * clamp(since(time), 0, 14);
  const spike = spikeTime(input);
  const oilPressure = (index: number, time: number): number => {
    const clean = (170 + 0.056 * rpm(index)) * (1 - 0.011 * (oil(time) - 100));
    return Math.min(540, clean) - (spike !== undefined && time >= spike.from && time < spike.to ? spike.drop : 0);
  };
  const crankcase = (index: number): number => 0.6 + (1.4 * load(index) * rpm(index)) / 6500;
  const lift = (time: number): number => 0.9 * clamp(since(time), 0, 14);
  return [
    ['CLT', '°C', 1, 10, ({ time }) => stepped(heat.coolantAt(since(time)) + normal(0.1), 0.5)],
    ['Coolant P', 'kPa', 1, 20, ({ index, time }) => 118 + 0.2 * lift(time) + coolant(index) + normal(0.8)],
    ['Oil T', '°C', 1, 10, ({ time }) => stepped(oil(time) + normal(0.1), 0.5)],
    ['Oil P', 'kPa', 0, 20, ({ index, time }) => oilPressure(index, time) + pulse(5) + normal(2)],
    ['Crankcase P', 'kPa', 2, 20, ({ index }) => crankcase(index) + pulse(0.8) + normal(0.1)],
    ['Axle oil T', '°C', 1, 10, ({ time }) => stepped(heat.axle + 0.12 * clamp(since(time), 0, 16) + normal(0.1), 0.5)],
    ['Cam tgt A', '°', 1, 20, ({ index }) => of('camTarget')(index)],
    ['Cam A', '°', 1, 20, ({ index }) => of('camA')(index) + normal(0.35)],
    ['Cam tgt B', '°', 1, 20, ({ index }) => of('camTarget')(index)],
    ['Cam B', '°', 1, 20, ({ index }) => of('camB')(index) + normal(0.35)],
  ];
}

function spikeTime({ faults, run }: EngineLogInput): { from: number; to: number; drop: number } | undefined {
  const spike = faults.oilSpike;
  if (!spike) return undefined;
  const index = run.engineSpeed.findIndex(
    (speed, k) => run.from + k * STEP > run.tipIn && (speed * 30) / Math.PI >= spike.rpm,
  );
  const from = run.from + index * STEP;
  return { from, to: from + spike.seconds, drop: spike.drop };
}

function knockColumns({ normal, of }: Tools): readonly Column[] {
  const rpm = of('rpm');
  const load = of('load');
  const events: Readonly<Record<number, (index: number) => number>> = { 3: of('knock3'), 5: of('knock5') };
  const retards: Readonly<Record<number, (index: number) => number>> = { 3: of('retard3'), 5: of('retard5') };
  const cylinders = [1, 2, 3, 4, 5, 6];
  const level = (index: number, cylinder: number): number => {
    const background = (0.25 + 0.00022 * rpm(index)) * (0.7 + 0.3 * load(index)) * (1 + 0.03 * (cylinder - 3.5));
    return Math.max(0.02, background * (1 + (events[cylinder]?.(index) ?? 0)) * (1 + normal(0.09)));
  };
  return [
    ...cylinders.map(
      (cylinder): Column => [`Knock cyl ${cylinder}`, 'V', 2, 100, ({ index }) => level(index, cylinder)],
    ),
    ...cylinders.map(
      (cylinder): Column => [`Knock ret cyl ${cylinder}`, '°', 1, 50, ({ index }) => retards[cylinder]?.(index) ?? 0],
    ),
  ];
}

/** Scale error of the wheel speeds: their tyre size was set for another tyre [1]. */
const WHEEL_SCALE = 1.014;

function statusColumns({ rig, run }: EngineLogInput, { normal, of }: Tools): readonly Column[] {
  const wheel = (index: number, place: number): number => {
    const speed = at(run.tyreSpeed, index);
    const turning = speed / radiusAt(rig, speed);
    const runOut = 1 + 0.002 * Math.sin(index * STEP * turning + place);
    return Math.max(0, turning * rig.radius * 3.6 * WHEEL_SCALE * runOut + normal(0.06));
  };
  return [
    ['WS RL', 'km/h', 1, 20, ({ index }) => wheel(index, 0)],
    ['WS RR', 'km/h', 1, 20, ({ index }) => wheel(index, 2)],
    ['Sync err', '-', 0, 50, ({ index }) => of('sync')(index)],
    ['Cut status', '-', 0, 100, ({ index }) => of('cut')(index)],
  ];
}
