import type { WrittenUnit } from '../simple/writing.ts';

export type UnitKind =
  | 'rotation'
  | 'pressure'
  | 'gauge'
  | 'difference'
  | 'temperature'
  | 'share'
  | 'lambda'
  | 'degrees'
  | 'voltage'
  | 'current'
  | 'flow'
  | 'pulse'
  | 'count'
  | 'velocity';

const unit = (text: string, factor: number, decimals: number): WrittenUnit => ({ text, factor, shift: 0, decimals });
const CELSIUS: WrittenUnit = { text: '°C', factor: 1, shift: -273.15, decimals: 1 };
const FAHRENHEIT: WrittenUnit = { text: '°F', factor: 9 / 5, shift: -459.67, decimals: 1 };

const COMMON = {
  rotation: unit('rpm', 30 / Math.PI, 0),
  share: unit('%', 100, 1),
  lambda: unit('-', 1, 3),
  degrees: unit('°', 1, 1),
  voltage: unit('V', 1, 2),
  current: unit('A', 1, 2),
  flow: unit('g/s', 1e3, 2),
  pulse: unit('ms', 1e3, 2),
  count: unit('-', 1, 0),
} as const;

export type UnitTable = Readonly<Record<UnitKind, WrittenUnit>>;

const kilopascal = unit('kPa', 1e-3, 1);
const bar = unit('bar', 1e-5, 3);
const pounds = unit('psi', 1 / 6894.757293168, 2);

/** Ways of writing engine channels. Gauge and absolute pressures have the same unit in a log; only the name tells. */
export const UNIT_TABLES: Readonly<Record<'kilopascal' | 'bar' | 'imperial', UnitTable>> = {
  kilopascal: {
    ...COMMON,
    pressure: kilopascal,
    gauge: kilopascal,
    difference: kilopascal,
    temperature: CELSIUS,
    velocity: unit('km/h', 3.6, 2),
  },
  bar: {
    ...COMMON,
    flow: unit('kg/h', 3600, 2),
    pressure: bar,
    gauge: bar,
    difference: bar,
    temperature: CELSIUS,
    velocity: unit('km/h', 3.6, 2),
  },
  imperial: {
    ...COMMON,
    flow: unit('lb/min', 60 / 0.45359237, 3),
    pressure: pounds,
    gauge: pounds,
    difference: pounds,
    temperature: FAHRENHEIT,
    velocity: unit('mph', 3600 / 1609.344, 2),
  },
};
