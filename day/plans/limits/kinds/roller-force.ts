import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = { name: 'roller force', subject: 'rolls', kind: 'force', source: 'as stated for the roller' };

/** Driving force against what the roller holds. */
export function rollerForce(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const why = 'roller unknown: state maxForce of the roller';
  return lineLimit(TITLE, { model, prediction }, { line: 'wheel force', fact: 'maxForce', why });
}
