import { normalCdf } from '../../../core/numerics/index.ts';
import { type Measured, measured } from '../../../core/quantities/index.ts';

/** A place where a border was passed or not. value: of the predicted quantity there, > 0. */
export interface Place {
  readonly value: number;
  readonly passed: boolean;
}

/** What is believed of a border before: best value and relative spread; sharpness: relative width of its edge. */
export interface Belief {
  readonly value: number;
  readonly spread: number;
  readonly sharpness: number;
}

const REACH = 4.5;
const POINTS = 401;

/**
 * Where a border lies, from places on both sides of it, in terms of the model's own prediction.
 *
 *     P(passed | x) = Φ(ln(x/b)/s),   ln b: normal before; mean and spread after
 *
 * What the model has wrong stands on both sides and falls out.
 *
 * @source  Bayes' rule on a grid; shape of the edge: our default
 */
export function borderSeen(places: readonly Place[], belief: Belief): Measured {
  const half = REACH * belief.spread;
  const offsets = Array.from({ length: POINTS }, (_, k) => -half + (2 * half * k) / (POINTS - 1));
  const weights = offsets.map((offset) => {
    const prior = -0.5 * (offset / belief.spread) ** 2;
    return places.reduce((sum, { value, passed }) => {
      const chance = normalCdf((Math.log(value / belief.value) - offset) / belief.sharpness);
      return sum + Math.log(Math.max(1e-12, passed ? chance : 1 - chance));
    }, prior);
  });
  const largest = Math.max(...weights);
  const shares = weights.map((weight) => Math.exp(weight - largest));
  const total = shares.reduce((sum, share) => sum + share, 0);
  const mean = shares.reduce((sum, share, k) => sum + share * offsets[k], 0) / total;
  const square = shares.reduce((sum, share, k) => sum + share * (offsets[k] - mean) ** 2, 0) / total;
  const value = belief.value * Math.exp(mean);
  return measured(value, value * Math.sqrt(square));
}

/**
 * Relative uncertainty that is left to a prediction when the border is known in the model's own terms [1]: what it may have wrong in carrying
 * from the places seen to the place asked.
 *
 * @source our default
 */
export const LEFT_IN_OWN_TERMS: Readonly<Record<string, number>> = {
  ...{ knockIntegralLimit: 0.1, headLiftPressure: 0.03, surgeFlowFactor: 0.03 },
};
