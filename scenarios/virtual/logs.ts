import { at, clamp } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import { type LogColumn, type LogPlace, lagged, logBytes, logText } from '../rig/log-text.ts';
import { STEP } from '../rig/roll-run.ts';
import type { SimplePlace } from '../simple/draw.ts';
import { timeCell, titleOf } from '../simple/logs.ts';
import type { WrittenUnit } from '../simple/writing.ts';
import type { InstrumentErrors, MadeFile } from '../truth.ts';
import { CHANNELS, type Channel, type ChannelName, channelNames } from './channels.ts';
import type { Hall } from './hall.ts';
import type { Column } from './names.ts';
import type { VirtualRun } from './run.ts';

/** A sensor that reads something else. alter: given what it should read (SI) at a time [s, roller's clock]; NaN leaves the cell empty. */
export interface Alteration {
  readonly column: Column;
  readonly alter: (value: number, time: number) => number;
  /** Another column whose sensor is written here instead. */
  readonly insteadOf?: Column;
}

/** What happens to a file's time column. gap, jump, repeat: between moments on the roller's clock [s]. */
export interface ClockFault {
  readonly side: 'roller' | 'engine';
  readonly gap?: { readonly from: number; readonly to: number };
  readonly jump?: { readonly at: number; readonly by: number };
  readonly repeat?: { readonly from: number; readonly to: number };
}

/** What the logs of one run are made from. clockStart: s after midnight. place: what the probe of the hall should read. */
export interface VirtualLogInput {
  readonly stem: string;
  readonly made: VirtualRun;
  readonly place: SimplePlace;
  readonly hall: Hall;
  readonly errors: InstrumentErrors;
  readonly clock: { readonly offset: number; readonly rate: number } | undefined;
  readonly brakeLimit: number;
  readonly clockStart: number;
  readonly alterations: readonly Alteration[];
  readonly clockFaults: readonly ClockFault[];
  readonly missing: readonly string[];
  readonly noise: Chance | undefined;
}

type Read = (place: LogPlace) => number;
interface Sensor {
  readonly column: Column;
  readonly unit: WrittenUnit;
  readonly hertz: number;
  readonly read: Read;
}

/** Two files with a clock each, or one with both sides. */
export function virtualLogs(input: VirtualLogInput): readonly MadeFile[] {
  const roller = rollerSensors(input).filter(({ column }) => !input.missing.includes(column));
  const engine = engineSensors(input);
  if (!input.clock)
    return [fileOf(input, { name: `${input.stem}.csv`, sensors: [...roller, ...engine], side: 'roller' })];
  return [
    fileOf(input, { name: `${input.stem}-roller.csv`, sensors: roller, side: 'roller' }),
    fileOf(input, { name: `${input.stem}-engine.csv`, sensors: engine, side: 'engine' }),
  ];
}

/** Engine-side channels that get into the files. */
export function loggedColumns(input: Pick<VirtualLogInput, 'hall' | 'missing' | 'brakeLimit'>): readonly string[] {
  const roller = [
    'roll-speed',
    'brake-force',
    'brake-setting',
    'ambient-temperature',
    'barometric-pressure',
    'relative-humidity',
  ];
  const braked = roller.filter((name) => input.brakeLimit > 0 || !name.startsWith('brake'));
  return [...braked.filter((name) => !input.missing.includes(name)), ...input.hall.channels];
}

function fileOf(
  input: VirtualLogInput,
  file: { name: string; sensors: readonly Sensor[]; side: 'roller' | 'engine' },
): MadeFile {
  const { hall, made } = input;
  const { writing } = hall;
  const hertz = file.side === 'roller' ? hall.rates.roller : hall.rates.engine;
  const clock = file.side === 'engine' && input.clock ? input.clock : { offset: 0, rate: 0 };
  const own = input.clockFaults.filter(({ side }) => side === file.side || !input.clock);
  const toRoller = (logTime: number): number => (logTime - clock.offset) / (1 + clock.rate);
  const last = made.run.rollSpeed.length - 2;
  const timeUnit = writing.time === 'clock' ? '' : writing.time;
  const text = logText({
    preamble: ['Invented data: no real engine, vehicle, roller or person'],
    firstNames: [{ name: titleOf(writing, hall.names.time, timeUnit === '' ? '-' : timeUnit), unit: timeUnit }],
    columns: file.sensors.map((sensor) => columnOf(input, sensor, hertz)),
    unitRow: writing.unitRow,
    dialect: writing.dialect,
    rows: {
      count: Math.floor((made.end * (1 + clock.rate) + clock.offset) * hertz) + 1,
      hertz,
      placeOf: (logTime) => {
        const time = toRoller(logTime);
        return { time, index: clamp(Math.floor((time - made.run.from) / STEP), 0, last) };
      },
      first: (row) => timeCell(writing, stampOf(own, row / hertz, toRoller), input.clockStart),
      keep: (row) => !own.some(({ gap }) => gap && toRoller(row / hertz) >= gap.from && toRoller(row / hertz) < gap.to),
    },
  });
  return { name: file.name, bytes: logBytes(text, writing.dialect) };
}

/** What the clock of a file writes for one of its moments. */
function stampOf(faults: readonly ClockFault[], logTime: number, toRoller: (logTime: number) => number): number {
  let stamp = logTime;
  const time = toRoller(logTime);
  for (const { jump, repeat } of faults) {
    if (jump && time >= jump.at) stamp += jump.by;
    // Inside, the clock only moves five times a second.
    if (repeat && time >= repeat.from && time < repeat.to) stamp = Math.floor(stamp * 5) / 5;
  }
  return Math.max(0, stamp);
}

function columnOf({ hall, alterations }: VirtualLogInput, sensor: Sensor, hertz: number): LogColumn {
  const own = alterations.filter(({ column, insteadOf }) => column === sensor.column && !insteadOf);
  const { factor, shift, decimals, text } = sensor.unit;
  const altered: Read = own.length
    ? (place) => own.reduce((value, { alter }) => alter(value, place.time), sensor.read(place))
    : sensor.read;
  return {
    name: titleOf(hall.writing, hall.names[sensor.column], text),
    unit: text,
    decimals,
    hertz: Math.min(hertz, sensor.hertz),
    read: (place) => altered(place) * factor + shift,
  };
}

/** Value of a signal between two steps, so that logs faster than the simulation have no stairs. */
function between(run: { readonly from: number }, signal: ArrayLike<number>, place: LogPlace): number {
  const share = clamp((place.time - run.from) / STEP - place.index, 0, 1);
  return at(signal, place.index) * (1 - share) + at(signal, place.index + 1) * share;
}

function engineSensors(input: VirtualLogInput): Sensor[] {
  const { hall, made, noise } = input;
  const swapped = (name: ChannelName): ChannelName => {
    const other = input.alterations.find(({ column, insteadOf }) => column === name && insteadOf)?.insteadOf;
    return channelNames().find((candidate) => candidate === other) ?? name;
  };
  return hall.channels.map((name) => ({
    column: name,
    unit: hall.engineUnits[CHANNELS[name].kind],
    hertz: CHANNELS[name].hertz,
    read: sensorOf(made, swapped(name), { noise, hall }),
  }));
}

/** One engine-side sensor: delayed and lagged signal, pulsation at the firings, noise, its own resolution and range. */
function sensorOf(
  made: VirtualRun,
  name: ChannelName,
  { noise, hall }: { noise: Chance | undefined; hall: Hall },
): Read {
  const channel: Channel = CHANNELS[name];
  const signal = name === 'lambda' ? delayed(made) : made.signals[channel.signal];
  const seen = channel.lag > 0 ? lagged(signal, channel.lag, STEP) : signal;
  const whole = channel.kind === 'count';
  const gain = name === 'wheel-speed' && noise ? hall.wheelGain : 1;
  const pulse = channel.pulse * hall.pulsation;
  return (place) => {
    let value = whole ? at(seen, place.index) : between(made.run, seen, place);
    if (name === 'engine-speed') value = shownSpeed(made, place);
    value = value * gain + channel.offset;
    if (noise) {
      const phase = 2 * Math.PI * between(made.run, made.signals.phase, place);
      value *= 1 + pulse * (Math.sin(phase) + 0.3 * Math.sin(2 * phase));
      value += channel.noise * noise.normal();
    }
    if (channel.step > 0) value = Math.round(value / channel.step) * channel.step;
    return clamp(value, channel.low, channel.high);
  };
}

/** Between two steps by straight lines, except where the crank signal is lost. */
function shownSpeed({ run, signals }: VirtualRun, place: LogPlace): number {
  const shown = at(signals.shownSpeed, place.index);
  return shown === at(signals.engineSpeed, place.index) ? between(run, signals.engineSpeed, place) : shown;
}

function delayed({ signals }: VirtualRun): number[] {
  return signals.lambda.map((_, k) => {
    const late = Math.max(0, k - Math.round((signals.lambdaDelay[k] ?? 0) / STEP));
    return signals.lambda[late] ?? Number.NaN;
  });
}

function rollerSensors(input: VirtualLogInput): Sensor[] {
  const { made, place, hall, errors, noise } = input;
  const units = hall.rollerUnits;
  const normal = (size: number): number => (noise ? size * noise.normal() : 0);
  const share = hall.engineUnits.share;
  const slow = (column: Column, unit: WrittenUnit, read: Read): Sensor => ({ column, unit, hertz: 1, read });
  const speed: Read = (at) =>
    between(made.run, made.run.rollSpeed, at) * (1 + errors.speedGain) + normal(hall.roller.speedNoise);
  const sensors: Sensor[] = [
    { column: 'roll-speed', unit: units.speed, hertz: 500, read: speed },
    slow('ambient-temperature', { ...units.temperature, decimals: 1 }, () => place.temperature + normal(0.1)),
    slow('barometric-pressure', units.pressure, () => place.pressure + normal(8)),
    slow('relative-humidity', { ...share, decimals: 0 }, () => place.relativeHumidity),
  ];
  if (!(input.brakeLimit > 0)) return sensors;
  const felt = cellForce(input);
  const size = Math.max(4, 0.0015 * input.brakeLimit);
  sensors.splice(
    1,
    0,
    {
      column: 'brake-force',
      unit: units.force,
      hertz: 500,
      read: (at) => between(made.run, felt, at) * (1 + errors.forceGain) + errors.forceZero + normal(size),
    },
    {
      column: 'brake-setting',
      unit: share,
      hertz: 50,
      read: (at) => between(made.run, made.run.brakeForce, at) / input.brakeLimit,
    },
  );
  return sensors;
}

/** What the load cell feels: the brake force through a swinging frame, ripple of the brake current, and the smoothing of the roller's own box. */
function cellForce({ made, hall, noise }: VirtualLogInput): Float64Array {
  const { brakeForce } = made.run;
  const { hertz, resonance, ripple, smoothing } = hall.roller;
  const turn = 2 * Math.PI * hertz;
  const damping = 0.08;
  const out = new Float64Array(brakeForce.length);
  let [swing, rate] = [0, 0];
  for (let k = 0; k < out.length; k += 1) {
    const force = at(brakeForce, k);
    // White push of a size that leaves a swing of about `resonance` of the force.
    const push = noise ? resonance * force * noise.normal() * Math.sqrt((4 * damping * turn ** 3) / STEP) : 0;
    rate += (push - 2 * damping * turn * rate - turn ** 2 * swing) * STEP;
    swing += rate * STEP;
    const current = noise ? ripple * force * Math.sin(2 * Math.PI * 33 * k * STEP) : 0;
    out[k] = force + swing + current;
  }
  return smoothing > 0 ? lagged([...out], smoothing, STEP) : out;
}
