import { unitOf } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Shape } from './shape.ts';

/**
 * Stoichiometric air-fuel ratios met in logs, by mass.
 * @source from memory: petrol 14.7, petrol with 10 % ethanol 14.1, diesel 14.5, 85 % ethanol 9.8, ethanol 9.0, methanol 6.4
 */
const STOICHIOMETRIC: readonly (readonly [number, number])[] = [
  [14.7, 1],
  [14.1, 0.4],
  [14.5, 0.3],
  [9.8, 0.3],
  [9.0, 0.2],
  [6.4, 0.1],
];
/** Lambda lies here in the middle of a log, an air-fuel ratio there. @source lambda 0.6-2; times 6.4-14.7 */
const LAMBDA_MIDDLE = [0.55, 2.6] as const;
const RATIO_MIDDLE = [4.5, 40] as const;
/** A fuel that is known makes its own scale this much likelier; displays stay on the petrol scale whatever is burnt. @source our default */
const KNOWN_FUEL = 2.5;

/** Lambda as such, or an air-fuel ratio of one of several fuels. */
export function mixtureHypotheses(meaning: Meaning, shape: Shape, stoichiometric?: number): readonly Hypothesis[] {
  const unit = unitOf('1');
  const base = { meaning, unit, zero: undefined, because: [] };
  const isLambda = within(shape.middle, LAMBDA_MIDDLE);
  const lambda: Hypothesis = {
    ...base,
    divisor: 1,
    weight: isLambda ? 1 : 0.01,
    because: isLambda ? ['values near 1 as lambda has them'] : [],
  };
  if (!within(shape.middle, RATIO_MIDDLE)) return [lambda];
  const scales = STOICHIOMETRIC.filter(
    ([ratio]) => stoichiometric === undefined || Math.abs(ratio - stoichiometric) > 0.1,
  );
  const known: readonly (readonly [number, number])[] =
    stoichiometric === undefined ? [] : [[stoichiometric, KNOWN_FUEL]];
  const ratios = [...known, ...scales].map(([divisor, weight]) => ({
    ...base,
    divisor,
    weight: shape.middle / divisor < 0.55 || shape.middle / divisor > 1.9 ? weight * 0.02 : weight,
    because: [`an air-fuel ratio, lambda = value / ${divisor}`],
  }));
  return [...ratios, lambda];
}

function within(value: number, [low, high]: readonly [number, number]): boolean {
  return value >= low && value <= high;
}
