import { REASONS } from '../channel.ts';
import type { Column } from '../table.ts';
import { CELL } from './cell.ts';
import { dayAndMonthExchanged } from './date.ts';
import type { ColumnTally } from './tally.ts';

/** What a whole column is, once every cell was seen. */
export interface Settled {
  readonly writing: Column['writing'];
  /** Cells of these codes are values of the column; all other codes are unreadable. */
  readonly values: ReadonlySet<number>;
  /** Open dates are to be read day first. */
  readonly dayFirst: boolean;
  /** Unit found in the cells themselves. */
  readonly cellUnit: string;
  /** Cells that are neither value nor empty. */
  readonly unreadable: number;
  readonly doubt: 'none' | 'two-part-clock' | 'day-or-month' | 'contradictory-dates' | 'several-units' | 'on-off';
}

/**
 * Decides what a column is by counting its cells: the most frequent kind of value wins, text wins when values are rarer than
 * one in ten. Depends on the counts only, never on where a chunk ended.
 */
export function settleColumn(tally: ColumnTally): Settled {
  const count = (...codes: readonly number[]): number =>
    codes.reduce((sum, code) => sum + (tally.codes.get(code) ?? 0), 0);
  const others = [...tally.codes.values()].reduce((sum, n) => sum + n, 0);
  const numbers = tally.rows - tally.empty - others;
  const measures = tally.units.size === 1 ? count(CELL.measure) : 0;
  const candidates = [
    {
      kind: 'number',
      codes: [CELL.number, CELL.measure].slice(0, measures > 0 && numbers === 0 ? 2 : 1),
      count: numbers === 0 ? measures : numbers,
    },
    { kind: 'clock', codes: [CELL.clock, CELL.clockTwoParts], count: count(CELL.clock, CELL.clockTwoParts) },
    { kind: 'date', codes: DATES, count: count(...DATES) },
    { kind: 'switch', codes: [CELL.switch], count: count(CELL.text) === 0 ? count(CELL.switch) : 0 },
  ] as const;
  const best = candidates.reduce((a, b) => (b.count > a.count ? b : a));
  const filled = tally.rows - tally.empty;
  if (filled === 0) return settled('empty', [], { unreadable: 0 });
  if (best.count === 0 || best.count < VALUE_SHARE * filled) {
    const doubt = tally.units.size > 1 && count(CELL.measure) > filled / 2 ? 'several-units' : 'none';
    return settled('text', [], { unreadable: filled, doubt });
  }
  const unreadable = filled - best.count;
  switch (best.kind) {
    case 'number':
      return settled('number', best.codes, {
        unreadable,
        cellUnit: best.codes.length > 1 ? firstKey(tally.units) : '',
      });
    case 'switch':
      return settled('number', best.codes, { unreadable, doubt: 'on-off' });
    case 'clock':
      return settled('clock', best.codes, { unreadable, doubt: count(CELL.clock) === 0 ? 'two-part-clock' : 'none' });
    case 'date':
      return settledDate(
        { open: count(CELL.dateOpen), dayFirst: count(CELL.dateDayFirst), monthFirst: count(CELL.dateMonthFirst) },
        unreadable,
      );
  }
}

/** Puts the decision into the samples and the mask [from, to), which still hold cell codes. */
export function applySettled(settled: Settled, samples: Float64Array, mask: Uint8Array): void {
  for (let i = 0; i < mask.length; i++) {
    const code = mask[i];
    if (code === CELL.empty) continue;
    if (!settled.values.has(code)) {
      samples[i] = Number.NaN;
      mask[i] = REASONS.unreadable;
      continue;
    }
    if (code === CELL.dateOpen && settled.dayFirst) samples[i] = dayAndMonthExchanged(samples[i]);
    mask[i] = REASONS.measured;
  }
}

/** Whether the mask already says the truth: only numbers and empty cells. */
export function isSettled(tally: ColumnTally): boolean {
  return tally.codes.size === 0;
}

function settledDate(seen: { open: number; dayFirst: number; monthFirst: number }, unreadable: number): Settled {
  const contradictory = seen.dayFirst > 0 && seen.monthFirst > 0;
  if (contradictory) {
    const lost = seen.open + Math.min(seen.dayFirst, seen.monthFirst);
    const kept = seen.dayFirst > seen.monthFirst ? CELL.dateDayFirst : CELL.dateMonthFirst;
    return settled('date', [CELL.date, kept], { unreadable: unreadable + lost, doubt: 'contradictory-dates' });
  }
  const undecided = seen.open > 0 && seen.dayFirst === 0 && seen.monthFirst === 0;
  return settled('date', DATES, {
    unreadable,
    dayFirst: seen.dayFirst > 0,
    doubt: undecided ? 'day-or-month' : 'none',
  });
}

function settled(
  writing: Column['writing'],
  values: readonly number[],
  rest: { unreadable: number; dayFirst?: boolean; cellUnit?: string; doubt?: Settled['doubt'] },
): Settled {
  return { writing, values: new Set(values), dayFirst: false, cellUnit: '', doubt: 'none', ...rest };
}

function firstKey(counts: ReadonlyMap<string, number>): string {
  for (const key of counts.keys()) return key;
  return '';
}

const DATES = [CELL.date, CELL.dateDayFirst, CELL.dateMonthFirst, CELL.dateOpen] as const;

/** A column whose cells are values in fewer than this share is a column of text. @source our default */
const VALUE_SHARE = 0.1;
