import {
  differenceFromSi,
  differenceToSi,
  fromSi,
  KINDS,
  type QuantityKind,
  toSi,
  type Unit,
  unitOf,
} from '../../../core/quantities/index.ts';
import type { Form } from './field.ts';

/** A text, or a number where the form is a plain number: `day.yaml` then shows it without quotes. */
export type WrittenField = string | number;

type Quantity = Extract<Form, { kind: QuantityKind }>;

/**
 * Text of one fact. Reading it back gives the same numbers to the last bit: digits are added until it does, in the unit
 * that needs the fewest; where no decimal number of any unit does, the SI unit always can.
 */
export function writeField(form: Form, fact: unknown): WrittenField {
  if (form.form === 'falling') return Array.isArray(fact) ? fact.map(String).join(', ') : String(fact);
  if (form.form !== 'measured' && form.form !== 'plain') return typeof fact === 'number' ? fact : String(fact);
  const { value, spread } = parts(fact);
  const written = form.units.map((symbol) => inUnit(form, value, { unit: unitOf(symbol), spread }));
  const found = written.reduce(fewer, undefined) ?? inUnit(form, value, { unit: unitOf(KINDS[form.kind].si), spread });
  if (!found) throw new RangeError(`not a finite quantity: ${value} ± ${spread}`);
  return found.text;
}

function parts(fact: unknown): { readonly value: number; readonly spread: number } {
  if (typeof fact === 'number') return { value: fact, spread: 0 };
  if (typeof fact !== 'object' || fact === null) throw new TypeError('a fact that is neither number nor measured');
  const numbers = new Map<string, unknown>(Object.entries(fact));
  return { value: Number(numbers.get('value')), spread: Number(numbers.get('standardUncertainty')) };
}

interface Candidate {
  readonly text: WrittenField;
  readonly digits: number;
}

/** The first unit wins unless another one needs far fewer digits: then the person most likely wrote that one. */
function fewer(best: Candidate | undefined, next: Candidate | undefined): Candidate | undefined {
  if (!best || !next) return best ?? next;
  return next.digits + MARGIN < best.digits ? next : best;
}

/** @source our default: a double needs 17 digits, a typed value seldom more than 7 */
const MARGIN = 6;

function inUnit(
  form: Quantity,
  value: number,
  { unit, spread }: { readonly unit: Unit; readonly spread: number },
): Candidate | undefined {
  // `38 ± 2 %` cannot be told from 38 ± 2 % of 38: a percentage with an uncertainty is written as a fraction.
  if (unit.symbol === '%' && spread !== 0) return undefined;
  const shown = decimal(fromSi(value, unit), (x) => Object.is(toSi(x, unit), value));
  if (shown === undefined) return undefined;
  if (spread === 0) return { text: withUnit(form, shown, unit), digits: shown.length };
  const shownSpread = decimal(differenceFromSi(spread, unit), (x) => differenceToSi(x, unit) === spread);
  if (shownSpread === undefined) return undefined;
  return {
    text: withUnit(form, `${shown} ± ${shownSpread}`, unit),
    digits: Math.max(shown.length, shownSpread.length),
  };
}

function withUnit(form: Quantity, shown: string, unit: Unit): WrittenField {
  if (unit.symbol !== '1') return `${shown} ${unit.symbol}`;
  const plain = Number(shown);
  return KINDS[form.kind].si === '1' && Number.isFinite(plain) && shown === shownNumber(plain) ? plain : shown;
}

/** Shortest decimal number that is read back exactly, tried near the quotient too because division rounds. */
function decimal(near: number, isExact: (x: number) => boolean): string | undefined {
  if (!Number.isFinite(near)) return undefined;
  for (let digits = 1; digits <= 17; digits++) {
    const rounded = Number(near.toPrecision(digits));
    if (isExact(rounded)) return shownNumber(rounded);
  }
  return [1, -1, 2, -2]
    .map((step) => near + step * ulp(near))
    .filter(isExact)
    .map(shownNumber)[0];
}

function shownNumber(x: number): string {
  return Object.is(x, -0) ? '-0' : String(x);
}

/** Distance to the next double. */
function ulp(x: number): number {
  return 2 ** (Math.floor(Math.log2(Math.abs(x) || Number.MIN_VALUE)) - 52);
}
