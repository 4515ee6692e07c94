import { standardAtmosphere } from '../../../core/physics/index.ts';
import {
  answered,
  formatQuantity,
  length,
  type Outcome,
  parseQuantity,
  type QuantityKind,
  refused,
} from '../../../core/quantities/index.ts';
import type { ScaledTo } from './scaled.ts';
import { partRefused, writtenParts } from './written-parts.ts';

/** What a result is carried to, as it was written. from: id of the pull whose result it is; absent: the one that made most. */
export interface ScaleRead {
  readonly from?: string;
  readonly to: ScaledTo;
}

type Field = keyof ScaledTo | 'altitude';

/** What a person may write before a number; low, high: SI values beyond which it is no engine and no air. @source our default */
interface ScaleWord {
  readonly words: readonly string[];
  readonly field: Field;
  readonly kind: QuantityKind;
  readonly low: number;
  readonly high: number;
}

const WORDS: readonly ScaleWord[] = [
  { words: ['displacement', 'size'], field: 'displacement', kind: 'volume', low: 20e-6, high: 0.1 },
  { words: ['cylinders', 'cylinder'], field: 'cylinders', kind: 'count', low: 1, high: 24 },
  {
    words: ['ambient', 'ambient temperature', 'air temperature', 'outside'],
    field: 'ambientTemperature',
    kind: 'temperature',
    low: 220,
    high: 335,
  },
  {
    words: ['ambient pressure', 'barometer', 'air pressure'],
    field: 'ambientPressure',
    kind: 'barometric-pressure',
    low: 30e3,
    high: 110e3,
  },
  { words: ['altitude', 'height'], field: 'altitude', kind: 'altitude', low: -500, high: 9000 },
];

/** Words of a step that this question does not take, with where they belong. */
const STEP_WORDS = /^(?:map|manifold|timing|phase|lambda|gap|dwell|straps?|ballast|octane|fuel|ratio|gear)\b/iu;

/**
 * Reads to what a result is to be carried, as a person writes it: `displacement 2.0 L, 4 cylinders, ambient 35 °C, pull 22`.
 *
 * Parts between commas or semicolons, each a word and a quantity with its unit; the number of cylinders may stand first. An altitude stands for
 * pressure and temperature of the standard atmosphere there, unless they are written too. Refuses what it does not know, a number with a comma,
 * a missing or wrong unit, a quantity written twice, a value out of validity, and a question that changes nothing; each names the part.
 */
export function scaleOf(text: string): Outcome<ScaleRead> {
  const parts = writtenParts(text);
  if (!parts.ok) return parts;
  const found = new Map<Field, number>();
  let from: string | undefined;
  for (const part of parts.value) {
    const twice = `invalid scale: "${part}" says again what was said before`;
    const source = /^(?:pull|entry|of)\s+(\S.*)$/iu.exec(part);
    if (source) {
      if (from !== undefined) return partRefused('written-twice', twice, part);
      from = source[1];
      continue;
    }
    const read = partOf(part);
    if (!read.ok) return read;
    const { field, value } = read.value;
    if (found.has(field)) return partRefused('written-twice', twice, part);
    found.set(field, value);
  }
  if (found.size === 0)
    return partRefused(
      'nothing-to-scale',
      'missing scale: expected such as displacement 2.0 L, 4 cylinders, ambient 35 °C',
      text,
    );
  return answered({ ...(from === undefined ? {} : { from }), to: targetsOf(found) });
}

function targetsOf(found: ReadonlyMap<Field, number>): ScaledTo {
  const { altitude, ...named } = Object.fromEntries(found);
  if (altitude === undefined) return named;
  const air = standardAtmosphere(length(altitude));
  return { ambientPressure: air.pressure, ambientTemperature: air.temperature, ...named };
}

function partOf(part: string): Outcome<{ readonly field: Field; readonly value: number }> {
  const before = /^([+-]?[\d.]+)\s*(cylinders?)$/iu.exec(part);
  const match = before ? [part, before[2], before[1]] : /^([^\d+\-.±]*?)\s*(?:[:=]\s*)?([+-]?[\d.].*)$/u.exec(part);
  const word = (match?.[1] ?? part).trim().toLowerCase();
  const known = WORDS.find(({ words }) => words.includes(word));
  if (!known) {
    const names = WORDS.map(({ words }) => words[0]).join(', ');
    const hint = STEP_WORDS.test(part) ? '; what is set belongs into the step, --at' : '';
    return partRefused('unknown-word', `unknown scale: "${part}", expected one of ${names}, pull${hint}`, part);
  }
  if (!match) return partRefused('missing-number', `missing number: "${part}"`, part);
  return readValue(known, match[2], part);
}

function readValue(
  { words, field, kind, low, high }: ScaleWord,
  written: string,
  part: string,
): Outcome<{ readonly field: Field; readonly value: number }> {
  const read = kind === 'count' ? wholeNumber(written) : parseQuantity(written, kind);
  if (!read.ok) return partRefused(read.refusal.kind, `${read.refusal.message} (in "${part}")`, part);
  const { value } = read.value;
  if (value >= low && value <= high) return answered({ field, value });
  const shown = (one: number): string => formatQuantity(one, kind);
  return refused({
    kind: 'out of validity',
    message: `${words[0]} out of validity: ${shown(value)}, valid ${shown(low)} – ${shown(high)} (in "${part}")`,
    numbers: { value, low, high, part },
    rule: 'range of an engine, our default',
  });
}

function wholeNumber(text: string): Outcome<{ readonly value: number }> {
  const value = Number(text);
  if (Number.isInteger(value)) return answered({ value });
  return refused({
    kind: 'invalid-number',
    message: `invalid number: "${text}", expected a whole number`,
    numbers: { value: text },
  });
}
