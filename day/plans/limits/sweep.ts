import type { Prediction, Step } from '../model/engine-model.ts';
import type { Foresight } from './foresight.ts';
import type { Limit, LimitName } from './limit.ts';
import { limitBy } from './limits-of.ts';

/** The same step at rising manifold pressures [Pa]; everything else as it is in the step. */
export interface Sweep {
  readonly pressures: Float64Array;
  /** Highest of them that does not exceed the step's own. */
  readonly own: number;
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
    own: pressures.findLastIndex((pressure) => pressure <= step.manifoldPressure),
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
    limitBy(name, { model, prediction, step: { ...step, manifoldPressure: sweep.pressures[k] } }),
  );
}

/** Where a line over pressure first rises through zero. slope: per Pa there. share: between `index` and the next. */
export interface Crossing {
  readonly pressure: number;
  readonly slope: number;
  readonly index: number;
  readonly share: number;
}

/** First rise through zero between two neighbouring known values, from the pressure `from` on; undefined when there is none. */
export function firstCrossing(pressures: Float64Array, values: ArrayLike<number>, from = 0): Crossing | undefined {
  for (let k = from; k + 1 < pressures.length; k++) {
    const here = crossingAt(pressures, values, k);
    if (here) return here;
  }
  return undefined;
}

/** Rise through zero between a pressure and the next; undefined when there is none. */
function crossingAt(pressures: Float64Array, values: ArrayLike<number>, k: number): Crossing | undefined {
  const [a, b] = [values[k], values[k + 1]];
  if (!(a < 0 && b >= 0 && b > a)) return undefined;
  const share = a / (a - b);
  const width = pressures[k + 1] - pressures[k];
  return { pressure: pressures[k] + share * width, slope: (b - a) / width, index: k, share };
}

/** Where a line over pressure is passed, seen from the step's own pressure. */
export type PassedFrom =
  | { readonly kind: 'crossing'; readonly crossing: Crossing }
  | { readonly kind: 'everywhere'; readonly index: number };

/** Above zero by more than rounding [1]; equality is no passing. @source our default */
const PASSED = 1e-9;

/**
 * Where a line is passed when pressure rises from the step's own, or where it became so when it is passed there already. What lies below a
 * pressure at which it is not passed does not count: an engine that throttles passes other limits, which is not what is asked.
 */
export function passedFrom({ pressures, own }: Sweep, values: readonly number[]): PassedFrom | undefined {
  const start = nearestKnown(values, own);
  if (start === undefined) return undefined;
  if (!(values[start] > PASSED)) {
    const crossing = firstCrossing(pressures, values, start);
    return crossing && { kind: 'crossing', crossing };
  }
  let index = start;
  while (index > 0 && values[index - 1] > PASSED) index--;
  const crossing = index > 0 ? crossingAt(pressures, values, index - 1) : undefined;
  return crossing ? { kind: 'crossing', crossing } : { kind: 'everywhere', index };
}

/** Index of the known value nearest to one, those above first. */
function nearestKnown(values: readonly number[], own: number): number | undefined {
  for (let away = 0; away < values.length; away++) {
    for (const index of [own + away, own - away]) if (!Number.isNaN(values[index] ?? Number.NaN)) return index;
  }
  return undefined;
}
