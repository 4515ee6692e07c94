import { median } from '../../../core/numerics/index.ts';
import { toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Column } from '../table.ts';
import { type Candidate, candidatesOf } from './candidates.ts';
import { type Hypothesis, IMPOSSIBLE } from './hypotheses.ts';
import { readings } from './reading.ts';
import type { Shape } from './shape.ts';

/** Steps between rows that logs have [s]: usual, rare. @source domain practice 0.7 Hz to 2 kHz; our default */
const USUAL_STEP = [0.0004, 1.5] as const;
const RARE_STEP = [0.00005, 12] as const;
const RARE = 0.12;
/** A log lasts this long [s]: a few seconds to a working day. @source our default */
const DURATION = [3, 15 * 3600] as const;
/** Share of steps that are exactly one from which a column counts rows. @source our default */
const COUNTS_ROWS = 0.98;
const TIME_UNITS: readonly (readonly [string, number])[] = [
  ['s', 1],
  ['ms', 0.8],
  ['µs', 0.3],
  ['min', 0.15],
];

/** True when every step is exactly one: rows are counted, or one row per second, and nothing in the numbers says which. */
export function countsRows(column: Column, shape: Shape): boolean {
  return column.writing === 'number' && shape.whole && shape.count > 2 && shape.unitSteps >= COUNTS_ROWS;
}

/** A quantity never moves by exactly one unit from row to row: whatever the name says, only a counter or a time remains. */
export function countedRows(candidates: readonly Candidate[]): readonly Candidate[] {
  const counting = candidates.filter(({ meaning }) => meaning === 'time' || meaning === 'row-counter');
  if (counting.length > 0) return counting;
  return candidates.slice(0, 1).map(({ reading }) => ({
    meaning: 'row-counter',
    score: 1,
    words: [],
    reading: { ...reading, unit: undefined, unitText: '', unitFrom: 'none', zero: undefined },
    foreign: false,
  }));
}

/** Rows from which even steps are no accident, the share of steps that must be even, and how even [1]. @source our default */
const TICKS = { rows: 20, share: 0.9, within: 0.2 } as const;

/** True when a column rises from row to row by even steps, or was written as a clock that goes on: nothing that is measured does, time does. */
export function ticks({ samples, writing }: Column, { count, increasing }: Shape): boolean {
  if (!increasing || count < TICKS.rows) return false;
  if (writing === 'clock' || writing === 'date') return true;
  const steps = Array.from(samples.subarray(1), (value, i) => value - samples[i]).filter(Number.isFinite);
  const usual = median(steps, 'skip');
  const even = steps.filter((step) => Math.abs(step - usual) <= TICKS.within * usual).length;
  return usual > 0 && even >= TICKS.share * steps.length;
}

/**
 * What a ticking column can be: time, when its name allows that, or when it was written as a clock whatever its name; else nothing is known from
 * its ticking alone.
 */
export function tickingTime(column: Column, candidates: readonly Candidate[]): readonly Candidate[] {
  const time = candidates.find(({ meaning, foreign }) => meaning === 'time' && !foreign);
  if (time) return [time];
  const [reading] = readings(column);
  if (column.writing === 'number' || !reading) return candidates;
  const nameless = { ...reading, unit: undefined, unitText: '', unitFrom: 'none', zero: undefined } as const;
  return [{ meaning: 'time', score: 1, words: [], reading: nameless, foreign: false }];
}

/** True when the words of the name say time first. */
export function namedAsTime(column: Column): boolean {
  return column.writing !== 'text' && candidatesOf(readings(column))[0]?.meaning === 'time';
}

/** Why a column named as time is none; undefined where it can be one. */
export function brokenTime({ samples }: Column, { count, constant, increasing }: Shape): string | undefined {
  if (count < 2) return count === 1 ? 'only one row has a time' : 'no row has a time';
  if (constant) return 'time never moves';
  if (increasing) return undefined;
  const steps = Array.from(samples.subarray(1), (value, i) => value - samples[i]).filter(Number.isFinite);
  const back = steps.filter((step) => step < 0).length;
  return `time runs backward in ${back} of ${steps.length} steps`;
}

/** Units a time column without a unit can be in, by its step and its length. */
export function timeHypotheses(column: Column, shape: Shape): readonly Hypothesis[] {
  const base = { meaning: 'time', zero: undefined, divisor: 1 } as const;
  if (column.writing === 'clock' || column.writing === 'date') {
    return [{ ...base, unit: unitOf('s'), weight: 1, because: [`written as ${column.writing}`] }];
  }
  const steps: number[] = [];
  for (let i = 1; i < column.samples.length; i++) {
    const step = column.samples[i] - column.samples[i - 1];
    if (step > 0) steps.push(step);
  }
  const step = median(steps, 'skip');
  const duration = step * Math.max(1, shape.count - 1);
  return TIME_UNITS.map(([symbol, usual]) => {
    const unit = unitOf(symbol);
    const weight = usual * stepWeight(toSi(step, unit)) * durationWeight(toSi(duration, unit));
    return { ...base, unit, weight, because: [`median step ${Number(step.toPrecision(4))} ${symbol}`] };
  });
}

/** How often the numbers fall back: a counter that wraps or a clock that was set. */
export function fallsBack(column: Column): number {
  let falls = 0;
  for (let i = 1; i < column.samples.length; i++) if (column.samples[i] < column.samples[i - 1]) falls += 1;
  return falls;
}

function stepWeight(step: number): number {
  if (step >= USUAL_STEP[0] && step <= USUAL_STEP[1]) return 1;
  return step >= RARE_STEP[0] && step <= RARE_STEP[1] ? RARE : IMPOSSIBLE;
}

function durationWeight(duration: number): number {
  return duration >= DURATION[0] && duration <= DURATION[1] ? 1 : 0.15;
}
