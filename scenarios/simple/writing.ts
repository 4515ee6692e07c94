import type { Chance } from '../random.ts';
import type { LogDialect } from '../rig/log-text.ts';

/** A unit as a log writes it: value in the file = SI value·factor + shift. */
export interface WrittenUnit {
  readonly text: string;
  readonly factor: number;
  readonly shift: number;
  readonly decimals: number;
}

/** Units of one log. */
export interface WrittenUnits {
  readonly speed: WrittenUnit;
  readonly force: WrittenUnit;
  readonly temperature: WrittenUnit;
  readonly pressure: WrittenUnit;
}

/** How the logs of a simple day are written. time: seconds, whole milliseconds or clock time. unitRow: units in a row of their own, else in brackets. */
export interface Writing {
  readonly dialect: LogDialect;
  readonly units: WrittenUnits;
  readonly unitRow: boolean;
  readonly time: 's' | 'ms' | 'clock';
  readonly names: Readonly<Record<SimpleColumn, string>>;
}

export type SimpleColumn =
  | 'time'
  | 'speed'
  | 'force'
  | 'brake'
  | 'temperature'
  | 'pressure'
  | 'humidity'
  | 'rpm'
  | 'map'
  | 'throttle'
  | 'lambda'
  | 'sync';

export type DialectName = 'comma' | 'semicolon' | 'tab' | 'utf-16';

const unit = (text: string, factor: number, decimals: number): WrittenUnit => ({ text, factor, shift: 0, decimals });
const CELSIUS: WrittenUnit = { text: '°C', factor: 1, shift: -273.15, decimals: 1 };
const FAHRENHEIT: WrittenUnit = { text: '°F', factor: 9 / 5, shift: -459.67, decimals: 1 };

/** Unit sets of the roller's side. */
export const METRIC: readonly WrittenUnits[] = [
  { speed: unit('km/h', 3.6, 2), force: unit('N', 1, 1), temperature: CELSIUS, pressure: unit('kPa', 1e-3, 2) },
  { speed: unit('m/s', 1, 3), force: unit('kN', 1e-3, 4), temperature: CELSIUS, pressure: unit('hPa', 1e-2, 1) },
];
export const IMPERIAL: readonly WrittenUnits[] = [
  {
    speed: unit('mph', 3600 / 1609.344, 2),
    force: unit('lbf', 1 / 4.4482216152605, 2),
    temperature: FAHRENHEIT,
    pressure: unit('psi', 1 / 6894.757293168, 3),
  },
  {
    speed: unit('mph', 3600 / 1609.344, 2),
    force: unit('lbf', 1 / 4.4482216152605, 2),
    temperature: FAHRENHEIT,
    pressure: unit('inHg', 1 / 3386.389, 3),
  },
];

/** Ways of writing numbers and rows. */
export const DIALECTS: Readonly<Record<DialectName, LogDialect>> = {
  comma: { delimiter: ',', decimal: '.', newline: '\n', encoding: 'utf-8', byteOrderMark: false },
  semicolon: { delimiter: ';', decimal: ',', newline: '\r\n', encoding: 'utf-8', byteOrderMark: true },
  tab: { delimiter: '\t', decimal: '.', newline: '\n', encoding: 'utf-8', byteOrderMark: false },
  'utf-16': { delimiter: '\t', decimal: ',', newline: '\r\n', encoding: 'utf-16le', byteOrderMark: true },
};

const NAMES: Readonly<Record<SimpleColumn, readonly string[]>> = {
  time: ['Time', 't', 'time'],
  speed: ['Roll speed', 'roller_speed', 'Drum speed'],
  force: ['Brake force', 'force', 'Load cell'],
  brake: ['Brake', 'brake_set'],
  temperature: ['Ambient temp', 'air temp', 'Tamb'],
  pressure: ['Baro', 'Barometer'],
  humidity: ['RH', 'Humidity'],
  rpm: ['RPM', 'Engine speed', 'n'],
  map: ['MAP', 'Manifold pressure'],
  throttle: ['TPS', 'Throttle', 'Throttle pos'],
  lambda: ['Lambda', 'Lambda 1'],
  sync: ['Sync errors', 'Trigger errors'],
};

/** A way of writing; what is given stays. */
export function drawWriting(
  chance: Chance,
  given: { units?: 'metric' | 'imperial' | undefined; dialect?: DialectName | undefined },
): Writing {
  const system = given.units ?? chance.pick(['metric', 'imperial'] as const);
  const picked = (column: SimpleColumn): string => chance.pick(NAMES[column]);
  return {
    dialect: DIALECTS[given.dialect ?? chance.pick(['comma', 'semicolon', 'tab', 'utf-16'] as const)],
    units: chance.pick(system === 'metric' ? METRIC : IMPERIAL),
    unitRow: chance.uniform() < 0.5,
    time: chance.pick(['s', 'ms', 'clock'] as const),
    names: {
      time: picked('time'),
      speed: picked('speed'),
      force: picked('force'),
      brake: picked('brake'),
      temperature: picked('temperature'),
      pressure: picked('pressure'),
      humidity: picked('humidity'),
      rpm: picked('rpm'),
      map: picked('map'),
      throttle: picked('throttle'),
      lambda: picked('lambda'),
      sync: picked('sync'),
    },
  };
}
