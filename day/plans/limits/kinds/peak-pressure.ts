import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'peak pressure',
  subject: 'loads',
  kind: 'absolute-pressure',
  source:
    'a limit somebody stated for this engine, else 100 … 140 bar: from memory; mean cycle, single cycles reach higher',
};

/** What boosted production engines are made for [Pa]. */
const USUAL = { value: 120e5, standardUncertainty: 15e5, source: 'from memory: 100 … 140 bar' };

/**
 * Highest cylinder pressure against a limit that was stated for the engine. Where neither that nor the clamp of the head is known, against a
 * usual one with a wide spread; where the clamp is known it says more than a usual value could.
 */
export function peakPressure(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const clampKnown = model.values.has('headLiftPressure') || model.values.has('clampForce');
  const why = 'no limit stated: state peakPressureLimit';
  const usual = clampKnown ? {} : { usual: USUAL };
  return lineLimit(TITLE, { model, prediction }, { line: 'peak pressure', fact: 'peakPressureLimit', ...usual, why });
}
