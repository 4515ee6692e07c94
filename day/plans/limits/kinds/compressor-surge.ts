import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { judgedFrom } from '../../model/held.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { type FlowEnds, flowLimit } from './flow-limit.ts';

const TITLE: LimitTitle = {
  name: 'compressor surge',
  subject: 'charge-air',
  kind: 'mass-flow',
  source:
    'compressor map: smallest corrected flow at this pressure ratio; pulsation and volumes of the engine shift it: flow ± 5 %, our default',
};

/**
 * Smallest flow that the map has at this pressure ratio against the corrected flow. Below the speeds at which the day's pulls had such a pressure nothing is
 * said: there the turbine has not brought it about yet.
 */
export function compressorSurge(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const from = judgedFrom(model, step.manifoldPressure);
  const balance = ({ flow, smallest }: FlowEnds) => ({ required: smallest, available: flow });
  return flowLimit(TITLE, { model, prediction, step, from }, balance);
}
