import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'charge temperature',
  subject: 'charge-air',
  kind: 'temperature',
  source: 'as stated',
};

/** Charge temperature against a stated limit; without one its cost shows in knock and power. */
export function chargeTemperature(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const why = 'no limit stated: state chargeTemperatureLimit';
  return lineLimit(TITLE, { model, prediction }, { line: 'charge temperature', fact: 'chargeTemperatureLimit', why });
}
