import { quantileOfSorted } from '../../../core/numerics/index.ts';
import type { Column } from '../table.ts';

/** What the numbers of a column look like, as written. */
export interface Shape {
  readonly count: number;
  readonly lowest: number;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  readonly highest: number;
  readonly mean: number;
  readonly deviation: number;
  readonly distinct: number;
  readonly whole: boolean;
  readonly constant: boolean;
  readonly increasing: boolean;
  /** Share of steps that are exactly one. */
  readonly unitSteps: number;
}

/** Values from which percentiles and distinct values are taken, spread evenly over the file. @source our default */
const LOOKED_AT = 4000;

/** Shapes that were taken before: several steps of recognition look at the same column. */
const knownShapes = new WeakMap<Column, Shape>();

export function shapeOf(column: Column): Shape {
  const known = knownShapes.get(column) ?? takenShape(column.samples);
  knownShapes.set(column, known);
  return known;
}

function takenShape(samples: Float64Array): Shape {
  const values = finiteOf(samples);
  const { mean, deviation } = spreadOf(values);
  const looked = everyNth(values, Math.max(1, Math.ceil(values.length / LOOKED_AT))).sort();
  const steps = Math.max(1, values.length - 1);
  const { lowest, highest, ones, rises, whole } = walk(values);
  return {
    count: values.length,
    lowest,
    low: quantileOfSorted(looked, 0.01),
    middle: quantileOfSorted(looked, 0.5),
    high: quantileOfSorted(looked, 0.95),
    highest,
    mean,
    deviation,
    distinct: new Set(looked).size,
    whole,
    constant: values.length > 0 && lowest === highest,
    increasing: values.length > 1 && rises / steps > 0.98,
    unitSteps: ones / steps,
  };
}

function finiteOf(samples: Float64Array): Float64Array {
  const kept = new Float64Array(samples.length);
  let count = 0;
  for (let i = 0; i < samples.length; i++) if (Number.isFinite(samples[i])) kept[count++] = samples[i];
  return kept.subarray(0, count);
}

function everyNth(values: Float64Array, stride: number): Float64Array {
  const kept = new Float64Array(Math.ceil(values.length / stride));
  for (let i = 0; i < kept.length; i++) kept[i] = values[i * stride];
  return kept;
}

function spreadOf(values: Float64Array): { mean: number; deviation: number } {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  const mean = sum / Math.max(1, values.length);
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i] - mean) ** 2;
  return { mean, deviation: Math.sqrt(squares / Math.max(1, values.length - 1)) };
}

/** Extremes, steps of exactly one, steps that do not fall, and whether all are whole; NaN extremes without values. */
function walk(values: Float64Array): Record<'lowest' | 'highest' | 'ones' | 'rises', number> & { whole: boolean } {
  let [lowest, highest] = [values[0] ?? Number.NaN, values[0] ?? Number.NaN];
  let [ones, rises] = [0, 0];
  let whole = values.length === 0 || Number.isInteger(values[0]);
  for (let i = 1; i < values.length; i++) {
    const step = values[i] - values[i - 1];
    if (Math.abs(step - 1) < 1e-9) ones += 1;
    if (step >= 0) rises += 1;
    if (values[i] < lowest) lowest = values[i];
    if (values[i] > highest) highest = values[i];
    if (whole && !Number.isInteger(values[i])) whole = false;
  }
  return { lowest, highest, ones, rises, whole };
}
