import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { isBoosted } from '../../model/sensitivities.ts';
import { isCompressionLit } from '../applies.ts';
import type { LimitTitle } from '../balance.ts';
import type { Usual } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { lineLimit } from './stated.ts';

const TITLE: LimitTitle = {
  name: 'peak pressure',
  subject: 'loads',
  kind: 'cylinder-pressure',
  source:
    'a limit somebody stated for this engine, else 80 … 110 bar without boost, 100 … 140 with, 140 … 190 with compression ignition: from memory; mean cycle, single cycles reach higher',
};

/** What production engines are made for [Pa]: boosted, without a compressor, and with compression ignition. */
const USUAL = { value: 120e5, standardUncertainty: 15e5, source: 'from memory: 100 … 140 bar' };
const USUAL_UNBOOSTED = { value: 95e5, standardUncertainty: 12e5, source: 'from memory: 80 … 110 bar' };
const USUAL_COMPRESSION = { value: 165e5, standardUncertainty: 20e5, source: 'from memory: 140 … 190 bar' };

function usualFor(model: EngineModel): Usual {
  if (isCompressionLit(model)) return USUAL_COMPRESSION;
  return isBoosted(model) ? USUAL : USUAL_UNBOOSTED;
}

/**
 * Highest cylinder pressure against a limit that was stated for the engine. Where neither that nor the clamp of the head is known, against a
 * usual one with a wide spread; where the clamp is known it says more than a usual value could.
 */
export function peakPressure(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const clampKnown = model.values.has('headLiftPressure') || model.values.has('clampForce');
  const why = 'no limit stated: state peakPressureLimit';
  const usual = clampKnown ? {} : { usual: usualFor(model) };
  return lineLimit(TITLE, { model, prediction }, { line: 'peak pressure', fact: 'peakPressureLimit', ...usual, why });
}
