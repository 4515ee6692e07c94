import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { flowLimit } from './flow-limit.ts';

const TITLE: LimitTitle = {
  name: 'compressor surge',
  subject: 'charge-air',
  kind: 'mass-flow',
  source:
    'compressor map: smallest corrected flow at this pressure ratio; pulsation and volumes of the engine shift it: flow ± 5 %, our default',
};

/** Smallest flow that the map has at this pressure ratio against the corrected flow. */
export function compressorSurge(model: EngineModel, prediction: Prediction, step: Step): Limit {
  return flowLimit(TITLE, { model, prediction, step }, ({ flow, smallest }) => ({
    required: smallest,
    available: flow,
  }));
}
