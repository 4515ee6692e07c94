import { KINDS, toSi, type Unit, unitOf } from '../../../core/quantities/index.ts';
import { MEANINGS, type Meaning } from '../meanings.ts';
import { rangeOf } from './ranges.ts';
import type { PressureZero } from './reading.ts';
import type { Shape } from './shape.ts';

/** One way to turn the written numbers into SI. weight: relative, not yet shared out. because: what spoke for or against it. */
export interface Hypothesis {
  readonly meaning: Meaning;
  readonly unit: Unit;
  readonly zero: PressureZero | undefined;
  readonly divisor: number;
  readonly weight: number;
  readonly because: readonly string[];
}

/** Units in which a quantity is met in logs when nobody wrote one, with how often. @source common practice, no source; weights our default */
const USUAL: Readonly<Record<string, readonly (readonly [string, number])[]>> = {
  speed: [['km/h', 1], ['mph', 0.8], ['m/s', 0.5]], // biome-ignore format: a table
  rotation: [['rpm', 1], ['krpm', 0.25], ['rad/s', 0.15], ['rev/s', 0.1]], // biome-ignore format: a table
  'turbo-rotation': [['krpm', 1], ['rpm', 1], ['rad/s', 0.2]], // biome-ignore format: a table
  pressure: [['kPa', 1], ['bar', 0.9], ['psi', 0.9], ['hPa', 0.6], ['inHg', 0.3], ['mmHg', 0.15], ['Pa', 0.2], ['kgf/cm²', 0.2], ['MPa', 0.15]], // biome-ignore format: a table
  temperature: [['°C', 1], ['°F', 0.5], ['K', 0.4]], // biome-ignore format: a table
  force: [['N', 1], ['lbf', 0.7], ['kN', 0.5], ['kgf', 0.35], ['daN', 0.3]], // biome-ignore format: a table
  torque: [['N·m', 1], ['lbf·ft', 0.8], ['kgf·m', 0.25]], // biome-ignore format: a table
  power: [['kW', 1], ['hp', 0.9], ['PS', 0.9], ['W', 0.2]], // biome-ignore format: a table
  'mass-flow': [['g/s', 1], ['kg/h', 0.8], ['lb/min', 0.5], ['kg/s', 0.2], ['lb/h', 0.2], ['g/min', 0.1]], // biome-ignore format: a table
  'volume-flow': [['L/h', 1], ['cm³/min', 0.6], ['L/min', 0.5], ['gal/h', 0.4]], // biome-ignore format: a table
  ratio: [['%', 1], ['1', 1]], // biome-ignore format: a table
  plain: [['1', 1]], // biome-ignore format: a table
  angle: [['°', 1], ['rad', 0.1]], // biome-ignore format: a table
  acceleration: [['m/s²', 1], ['gₙ', 0.6], ['ft/s²', 0.4]], // biome-ignore format: a table
  length: [['m', 1], ['km', 0.6], ['mi', 0.4], ['ft', 0.3]], // biome-ignore format: a table
  voltage: [['V', 1], ['mV', 0.3]], // biome-ignore format: a table
  current: [['A', 1], ['mA', 0.2]], // biome-ignore format: a table
  time: [['ms', 1], ['µs', 0.6], ['s', 0.4]], // biome-ignore format: a table
};

/** What the range alone says: ordinary, possible, impossible. @source our default */
export const ORDINARY = 1;
export const POSSIBLE = 0.5;
export const IMPOSSIBLE = 0.02;

/** Other meaning of the same words when the pressure counts from the other zero. */
const OTHER_ZERO: Readonly<Partial<Record<Meaning, Meaning>>> = {
  'manifold-pressure': 'manifold-gauge-pressure',
  'manifold-gauge-pressure': 'manifold-pressure',
};
/** How often the other zero is meant when nothing is written. @source our default */
const OTHER_ZERO_WEIGHT: Readonly<Partial<Record<Meaning, number>>> = {
  'manifold-pressure': 0.2,
  'manifold-gauge-pressure': 0.7,
  'boost-pressure': 0.6,
  'exhaust-pressure': 0.7,
  'compressor-inlet-pressure': 0.2,
};

/** How often a roll speed without a unit is written as rotation. @source our default */
const ROLL_ROTATION = 0.3;

/** From which zero the meaning's own kind counts. */
export function ownZero(meaning: Meaning): PressureZero | undefined {
  const kind = MEANINGS[meaning].kind;
  if (kind === 'absolute-pressure' || kind === 'barometric-pressure') return 'vacuum';
  return kind === 'gauge-pressure' ? 'ambient' : undefined;
}

export interface Asked {
  readonly meaning: Meaning;
  readonly shape: Shape;
  readonly unit: Unit | undefined;
  readonly zero: PressureZero | undefined;
  /** Barometric pressure of the day [Pa]. */
  readonly ambient: number;
}

/** All ways to read the numbers, weighed by how usual the unit is and by the range. Not empty. */
export function hypothesesOf({ meaning, shape, unit, zero, ambient }: Asked): readonly Hypothesis[] {
  const units: readonly (readonly [Unit, number])[] = unit ? [[unit, 1]] : usualUnits(meaning);
  const found: Hypothesis[] = [];
  for (const [each, usual] of units) {
    for (const reading of zerosOf(meaning, zero)) {
      const plausible = plausibility({ meaning: reading.meaning, shape, unit: each, zero: reading.zero, ambient });
      const because = plausible === ORDINARY ? ['values in the usual range'] : [];
      found.push({ ...reading, unit: each, divisor: 1, weight: usual * reading.weight * plausible, because });
    }
  }
  if (meaning === 'roll-speed' && !unit) found.push(rollRotation(shape, ambient));
  return found;
}

/** A roll speed without a unit can also be the rotation of the roll; its radius is then needed. */
function rollRotation(shape: Shape, ambient: number): Hypothesis {
  const reading = { meaning: 'roll-rotation', unit: unitOf('rpm'), zero: undefined } as const;
  const weight = ROLL_ROTATION * plausibility({ ...reading, shape, ambient });
  return { ...reading, divisor: 1, weight, because: ['could be the rotation of the roll'] };
}

/** Units a person would choose from. */
export function usualUnits(meaning: Meaning): readonly (readonly [Unit, number])[] {
  const kind = MEANINGS[meaning].kind;
  const { dimension } = KINDS[kind];
  const plain = kind === 'lambda' || kind === 'count' || kind === 'ratio';
  const key = kind === 'turbo-speed' ? 'turbo-rotation' : plain ? 'plain' : dimension;
  return (USUAL[key] ?? [[KINDS[kind].si, 1]]).map(([symbol, weight]) => [unitOf(symbol), weight] as const);
}

interface ZeroReading {
  readonly meaning: Meaning;
  readonly zero: PressureZero | undefined;
  readonly weight: number;
}

function zerosOf(meaning: Meaning, said: PressureZero | undefined): readonly ZeroReading[] {
  const own = ownZero(meaning);
  if (!own) return [{ meaning, zero: undefined, weight: 1 }];
  const turned = own === 'vacuum' ? 'ambient' : 'vacuum';
  const other: ZeroReading = {
    meaning: OTHER_ZERO[meaning] ?? meaning,
    zero: turned,
    weight: OTHER_ZERO_WEIGHT[meaning] ?? 0,
  };
  const same: ZeroReading = { meaning, zero: own, weight: 1 };
  if (said) return [said === own ? same : { ...other, weight: 1 }];
  return other.weight === 0 ? [same] : [same, other];
}

interface Judged {
  readonly meaning: Meaning;
  readonly shape: Shape;
  readonly unit: Unit;
  readonly zero: PressureZero | undefined;
  readonly ambient: number;
}

/** ORDINARY, POSSIBLE or IMPOSSIBLE by the range alone; a column that never leaves zero contradicts nothing. */
export function plausibility({ meaning, shape, unit, zero, ambient }: Judged): number {
  const range = rangeOf(meaning);
  if (!range || shape.count === 0 || (shape.constant && shape.highest === 0)) return ORDINARY;
  const own = ownZero(meaning);
  const shift = !own || zero === own ? 0 : zero === 'ambient' ? ambient : -ambient;
  const [low, high, top] = [shape.low, shape.high, shape.highest].map((value) => toSi(value, unit) + shift);
  if (low < range.lowest || high > range.highest) return IMPOSSIBLE;
  if (own === 'vacuum' && top <= 0) return IMPOSSIBLE;
  if (range.leastHigh !== undefined && high < range.leastHigh) return IMPOSSIBLE;
  if (KINDS[MEANINGS[meaning].kind].dimension === 'ratio' && MEANINGS[meaning].kind === 'fraction') {
    return fractionPlausibility(shape, unit);
  }
  return high >= range.reach[0] && high <= range.reach[1] ? ORDINARY : POSSIBLE;
}

/** Percent must go beyond what a fraction can be, and a fraction may not; between them nothing is known. */
function fractionPlausibility(shape: Shape, unit: Unit): number {
  if (unit.symbol === '1') return shape.highest > 1.25 ? IMPOSSIBLE : shape.high > 0.15 ? ORDINARY : POSSIBLE;
  if (shape.highest > 1.25) return shape.high > 8 ? ORDINARY : POSSIBLE;
  return shape.constant ? POSSIBLE : IMPOSSIBLE * 5;
}
