import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'injector duty',
  subject: 'fuel',
  kind: 'fraction',
  source: 'definition of duty; at most 0.80 … 0.85 lasting is common practice, no source',
};

/** Share of the cycle in which the injectors are open, against what they may. */
export function injectorDuty(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const usual = { value: 0.85, standardUncertainty: 0.02, source: 'common practice, no source' };
  const why = 'injectors unknown: state injectorFlow';
  return lineLimit(TITLE, { model, prediction }, { line: 'injector duty', fact: 'largestDuty', usual, why });
}
