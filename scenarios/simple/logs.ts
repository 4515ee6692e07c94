import { at, clamp } from '../interpolate.ts';
import type { Chance } from '../random.ts';
import { type LogColumn, type LogPlace, logBytes, logText } from '../rig/log-text.ts';
import { STEP } from '../rig/roll-run.ts';
import type { InstrumentErrors, MadeFile } from '../truth.ts';
import type { SimplePlace } from './draw.ts';
import type { SimpleRun } from './run.ts';
import type { SimpleColumn, Writing, WrittenUnit } from './writing.ts';

/** What the logs of one run are made from. clockStart: s after midnight; gap: [s] on the roller's clock without rows. */
export interface SimpleLogInput {
  readonly stem: string;
  readonly made: SimpleRun;
  readonly place: SimplePlace;
  readonly writing: Writing;
  readonly errors: InstrumentErrors;
  readonly rates: { readonly roller: number; readonly engine: number };
  readonly clock: { readonly offset: number; readonly rate: number } | undefined;
  readonly hasBrake: boolean;
  readonly brakeLimit: number;
  readonly clockStart: number;
  readonly gap: { readonly from: number; readonly to: number } | undefined;
  readonly missing: readonly string[];
  readonly noise: Chance | undefined;
}

/** Two files with a clock each, or one with both sides when there is no second clock. */
export function simpleLogs(input: SimpleLogInput): readonly MadeFile[] {
  const roller = rollerColumns(input);
  const engine = engineColumns(input);
  if (!input.clock)
    return [fileOf(input, { name: `${input.stem}.csv`, columns: [...roller, ...engine], side: 'roller' })];
  return [
    fileOf(input, { name: `${input.stem}-roller.csv`, columns: roller, side: 'roller' }),
    fileOf(input, { name: `${input.stem}-engine.csv`, columns: engine, side: 'engine' }),
  ];
}

type Keyed = LogColumn & { readonly key: SimpleColumn };

function fileOf(
  input: SimpleLogInput,
  file: { name: string; columns: readonly Keyed[]; side: 'roller' | 'engine' },
): MadeFile {
  const { writing, made } = input;
  const hertz = file.side === 'roller' ? input.rates.roller : input.rates.engine;
  const clock = file.side === 'engine' && input.clock ? input.clock : { offset: 0, rate: 0 };
  const columns = file.columns.filter((column) => !input.missing.includes(column.key));
  const named = columns.map((column) => ({ ...column, name: titleOf(writing, column.name, column.unit) }));
  const gap = file.side === 'roller' ? input.gap : undefined;
  const text = logText({
    preamble: ['Invented data: no real engine, vehicle, roller or person'],
    firstNames: [firstName(writing)],
    columns: named,
    unitRow: writing.unitRow,
    dialect: writing.dialect,
    rows: {
      count: Math.floor((made.end * (1 + clock.rate) + clock.offset) * hertz) + 1,
      hertz,
      placeOf: (logTime) => placeAt(made, (logTime - clock.offset) / (1 + clock.rate)),
      first: (row) => timeCell(writing, row / hertz, input.clockStart),
      ...(gap ? { keep: (row: number) => row / hertz < gap.from || row / hertz >= gap.to } : {}),
    },
  });
  return { name: file.name, bytes: logBytes(text, writing.dialect) };
}

function placeAt({ run }: SimpleRun, time: number): LogPlace {
  return { time, index: clamp(Math.floor((time - run.from) / STEP), 0, run.rollSpeed.length - 2) };
}

/** A column's name, with its unit in brackets unless the units have a row of their own. */
export function titleOf(writing: Pick<Writing, 'unitRow'>, name: string, unit: string): string {
  return writing.unitRow || unit === '-' ? name : `${name} [${unit}]`;
}

function firstName(writing: Writing): { name: string; unit: string } {
  const unit = writing.time === 'clock' ? '' : writing.time;
  return { name: titleOf(writing, writing.names.time, unit === '' ? '-' : unit), unit };
}

/** The time of a row as this log writes it. start: s after midnight. */
export function timeCell(writing: Pick<Writing, 'time' | 'dialect'>, seconds: number, start: number): string {
  if (writing.time === 'ms') return String(Math.round(seconds * 1e3));
  if (writing.time === 's') return seconds.toFixed(3).replace('.', writing.dialect.decimal);
  const total = Math.round((start + seconds) * 1e3);
  const pad = (value: number, width: number): string => String(value).padStart(width, '0');
  const [hours, minutes, rest] = [Math.floor(total / 3600e3), Math.floor(total / 60e3) % 60, total % 60e3];
  return `${pad(hours, 2)}:${pad(minutes, 2)}:${pad(Math.floor(rest / 1e3), 2)}.${pad(rest % 1e3, 3)}`;
}

/** Value of a signal between two steps, so that logs faster than the simulation have no stairs. */
function between(made: SimpleRun, signal: Float64Array, place: LogPlace): number {
  const share = clamp((place.time - made.run.from) / STEP - place.index, 0, 1);
  return at(signal, place.index) * (1 - share) + at(signal, place.index + 1) * share;
}

function written(unit: WrittenUnit, value: number): number {
  return value * unit.factor + unit.shift;
}

function rollerColumns(input: SimpleLogInput): Keyed[] {
  const { made, place, writing, errors, noise } = input;
  const { names, units } = writing;
  const normal = (size: number): number => (noise ? size * noise.normal() : 0);
  const hertz = input.clock ? input.rates.roller : Math.max(input.rates.roller, input.rates.engine);
  const size = Math.max(4, 0.002 * input.brakeLimit);
  const speed = (at: LogPlace): number =>
    between(made, made.run.rollSpeed, at) * (1 + errors.speedGain) + normal(0.008);
  const force = (at: LogPlace): number =>
    between(made, made.run.brakeForce, at) * (1 + errors.forceGain) + errors.forceZero + normal(size);
  const brake = (at: LogPlace): number => (100 * between(made, made.run.brakeForce, at)) / input.brakeLimit;
  const fraction = { text: '%', decimals: 0 };
  const columns: Keyed[] = [
    {
      key: 'speed',
      name: names.speed,
      unit: units.speed.text,
      decimals: units.speed.decimals,
      hertz,
      read: (at) => written(units.speed, speed(at)),
    },
    {
      key: 'temperature',
      name: names.temperature,
      unit: units.temperature.text,
      decimals: 1,
      hertz: 1,
      read: () => written(units.temperature, place.temperature + normal(0.1)),
    },
    {
      key: 'pressure',
      name: names.pressure,
      unit: units.pressure.text,
      decimals: units.pressure.decimals,
      hertz: 1,
      read: () => written(units.pressure, place.pressure + normal(8)),
    },
    {
      key: 'humidity',
      name: names.humidity,
      unit: fraction.text,
      decimals: 0,
      hertz: 1,
      read: () => 100 * place.relativeHumidity,
    },
  ];
  if (!input.hasBrake) return columns;
  columns.splice(
    1,
    0,
    {
      key: 'force',
      name: names.force,
      unit: units.force.text,
      decimals: units.force.decimals,
      hertz,
      read: (at) => written(units.force, force(at)),
    },
    { key: 'brake', name: names.brake, unit: '%', decimals: 1, hertz: Math.min(hertz, 50), read: brake },
  );
  return columns;
}

function engineColumns(input: SimpleLogInput): Keyed[] {
  const { made, writing, noise } = input;
  const { names, units } = writing;
  const normal = (size: number): number => (noise ? size * noise.normal() : 0);
  const hertz = input.clock ? input.rates.engine : Math.max(input.rates.roller, input.rates.engine);
  const slow = Math.min(20, hertz);
  const rpm = (at: LogPlace): number => (between(made, made.engineSpeed, at) * 30) / Math.PI + normal(4);
  return [
    { key: 'rpm', name: names.rpm, unit: 'rpm', decimals: 0, hertz, read: rpm },
    {
      key: 'map',
      name: names.map,
      unit: units.pressure.text,
      decimals: units.pressure.decimals,
      hertz,
      read: (at) => written(units.pressure, between(made, made.map, at) + normal(900)),
    },
    {
      key: 'throttle',
      name: names.throttle,
      unit: '%',
      decimals: 1,
      hertz,
      read: (at) => 100 * between(made, made.throttle, at),
    },
    {
      key: 'lambda',
      name: names.lambda,
      unit: '-',
      decimals: 3,
      hertz: slow,
      read: (at) => between(made, made.lambda, at) + normal(0.004),
    },
    { key: 'sync', name: names.sync, unit: '-', decimals: 0, hertz: slow, read: ({ index }) => at(made.sync, index) },
  ];
}
