import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'knock',
  subject: 'knock',
  kind: 'ratio',
  source: 'knock integral: Livengood and Wu 1955, ignition delay after Douaud and Eyzat SAE 780080 (from memory)',
};

/**
 * Knock integral of the end gas against the one at which this engine knocks: 1 by definition, or what the day's own pulls showed
 * (`knockIntegralLimit`, see knockIntegralLimitOf).
 */
export function knock(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const usual = {
    value: 1,
    standardUncertainty: 0.05,
    source: 'Livengood and Wu: the end gas lights where the integral is 1',
  };
  const why = 'knock integral unknown for this fuel';
  return lineLimit(TITLE, { model, prediction }, { line: 'knock integral', fact: 'knockIntegralLimit', usual, why });
}
