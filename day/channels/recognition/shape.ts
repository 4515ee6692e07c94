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

const DISTINCT_COUNTED = 5000;

export function shapeOf(column: Column): Shape {
  const values = column.samples.filter((value) => Number.isFinite(value));
  const sorted = values.toSorted();
  const mean = values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1);
  let [ones, rises] = [0, 0];
  for (let i = 1; i < values.length; i++) {
    const step = values[i] - values[i - 1];
    if (Math.abs(step - 1) < 1e-9) ones += 1;
    if (step >= 0) rises += 1;
  }
  const steps = Math.max(1, values.length - 1);
  return {
    count: values.length,
    lowest: sorted.at(0) ?? Number.NaN,
    low: quantileOfSorted(sorted, 0.01),
    middle: quantileOfSorted(sorted, 0.5),
    high: quantileOfSorted(sorted, 0.95),
    highest: sorted.at(-1) ?? Number.NaN,
    mean,
    deviation: Math.sqrt(variance),
    distinct: new Set(values.subarray(0, DISTINCT_COUNTED)).size,
    whole: values.every((value) => Number.isInteger(value)),
    constant: sorted.length > 0 && sorted.at(0) === sorted.at(-1),
    increasing: values.length > 1 && rises / steps > 0.98,
    unitSteps: ones / steps,
  };
}
