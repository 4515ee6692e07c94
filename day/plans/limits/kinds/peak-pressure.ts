import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'peak pressure',
  subject: 'loads',
  kind: 'absolute-pressure',
  source: 'a limit somebody stated for this engine; mean cycle, single cycles reach higher',
};

/** Highest cylinder pressure against a limit that was stated for the engine. */
export function peakPressure(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const why = 'no limit stated: state peakPressureLimit';
  return lineLimit(TITLE, { model, prediction }, { line: 'peak pressure', fact: 'peakPressureLimit', why });
}
