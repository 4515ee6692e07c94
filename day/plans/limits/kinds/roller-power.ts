import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = { name: 'roller power', subject: 'rolls', kind: 'power', source: 'as stated for the roller' };

/** Power at the rolls against what the roller takes. */
export function rollerPower(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const why = 'roller unknown: state maxPower of the roller';
  return lineLimit(TITLE, { model, prediction }, { line: 'wheel power', fact: 'maxPower', why });
}
