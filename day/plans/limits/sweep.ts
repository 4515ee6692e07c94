import type { Prediction, Step } from '../model/engine-model.ts';
import type { Foresight } from './foresight.ts';
import type { Limit, LimitName } from './limit.ts';
import { LIMIT_RULES } from './limits-of.ts';

/** The same step at rising manifold pressures [Pa]; everything else as it is in the step. */
export interface Sweep {
  readonly pressures: Float64Array;
  readonly predictions: readonly Prediction[];
}

/** Pressures looked at, as shares of the step's own: from far below to far above, each 5 % above the last. @source our default */
const LOWEST = 0.5;
const HIGHEST = 1.75;
const GROWTH = 1.05;

export function sweepOf({ predict }: Foresight, step: Step, speeds: Float64Array): Sweep {
  const pressures: number[] = [];
  for (let share = LOWEST; share < HIGHEST * GROWTH; share *= GROWTH) pressures.push(share * step.manifoldPressure);
  return {
    pressures: Float64Array.from(pressures),
    predictions: pressures.map((manifoldPressure) => predict({ ...step, manifoldPressure }, speeds)),
  };
}

/** One limit at every pressure of a sweep. */
export function limitOverSweep(
  { model }: Foresight,
  { sweep, step }: { readonly sweep: Sweep; readonly step: Step },
  name: LimitName,
): readonly Limit[] {
  return sweep.predictions.map((prediction, k) =>
    LIMIT_RULES[name](model, prediction, { ...step, manifoldPressure: sweep.pressures[k] }),
  );
}

/** Where a line over pressure first rises through zero. slope: per Pa there. share: between `index` and the next. */
export interface Crossing {
  readonly pressure: number;
  readonly slope: number;
  readonly index: number;
  readonly share: number;
}

/** First rise through zero between two neighbouring known values; undefined when there is none. */
export function firstCrossing(pressures: Float64Array, values: ArrayLike<number>): Crossing | undefined {
  for (let k = 0; k + 1 < pressures.length; k++) {
    const [a, b] = [values[k], values[k + 1]];
    if (!(a < 0 && b >= 0 && b > a)) continue;
    const share = a / (a - b);
    const width = pressures[k + 1] - pressures[k];
    return { pressure: pressures[k] + share * width, slope: (b - a) / width, index: k, share };
  }
  return undefined;
}
