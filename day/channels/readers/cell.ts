import { unitNamed } from '../../../core/quantities/index.ts';
import { REASONS } from '../channel.ts';
import { clockSeconds } from './clock.ts';
import { dateSeconds } from './date.ts';
import { markedNumber, type NumberSigns } from './number.ts';
import { isMissingWord, switchValue } from './words.ts';

/**
 * What a cell turned out to be, before the whole column is known. The first three are mask codes already;
 * the others wait in the mask until the column is settled.
 */
export const CELL = {
  number: REASONS.measured,
  empty: REASONS.empty,
  text: REASONS.unreadable,
  clock: 32,
  date: 33,
  /** `a/b/yyyy` with day first proven by this cell, with month first proven, with neither. */
  dateDayFirst: 34,
  dateMonthFirst: 35,
  dateOpen: 36,
  switch: 37,
  /** A number with its unit behind it: `12.5 V`. */
  measure: 38,
  /** `12:34`: a clock that may mean hours and minutes. */
  clockTwoParts: 39,
} as const;

export type CellCode = (typeof CELL)[keyof typeof CELL];

export interface CellRead {
  readonly code: CellCode;
  readonly value: number;
  /** Unit written in the cell, for a measure. */
  readonly unit?: string;
}

/** What a text that is not a plain number says. Trimmed text, without quotes. */
export function cellRead(text: string, signs: NumberSigns): CellRead {
  if (isMissingWord(text)) return EMPTY;
  if (text.length > LONGEST_VALUE) return TEXT;
  const on = switchValue(text);
  if (on !== undefined) return { code: CELL.switch, value: on };
  const first = text.charCodeAt(text[0] === '-' || text[0] === '+' ? 1 : 0);
  if (!(first >= 48 && first <= 57)) return TEXT;
  const marked = markedNumber(text, signs);
  if (marked !== undefined) return { code: CELL.number, value: marked };
  if (text.includes(':')) {
    const clock = clockSeconds(text);
    if (clock) return { code: clock.twoParts ? CELL.clockTwoParts : CELL.clock, value: clock.seconds };
  }
  const date = dateSeconds(text);
  if (date) return { code: DATE_CODES[date.order], value: date.seconds };
  return measure(text, signs) ?? TEXT;
}

/** A number followed by a unit that we know; an unknown word behind a number leaves the cell a text. */
function measure(text: string, signs: NumberSigns): CellRead | undefined {
  const match = MEASURE.exec(text);
  if (!match || !unitNamed(match[2])) return undefined;
  const plain = new RegExp(signs.decimal === ',' ? '^[+-]?\\d+(,\\d*)?$' : '^[+-]?\\d+(\\.\\d*)?$').test(match[1]);
  const value = plain ? Number(match[1].replace(',', '.')) : markedNumber(match[1], signs);
  return value === undefined ? undefined : { code: CELL.measure, value, unit: match[2] };
}

const EMPTY: CellRead = { code: CELL.empty, value: Number.NaN };
const TEXT: CellRead = { code: CELL.text, value: Number.NaN };
const MEASURE = /^([+-]?\d[\d.,' ]*?)\s?([%°A-Za-zµμΩ][^\d\s]{0,7})$/;
const DATE_CODES = {
  certain: CELL.date,
  'day-first': CELL.dateDayFirst,
  'month-first': CELL.dateMonthFirst,
  open: CELL.dateOpen,
} as const;

/** Longer texts cannot be a number, clock or date. */
const LONGEST_VALUE = 64;
