import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { flowLimit } from './flow-limit.ts';

const TITLE: LimitTitle = {
  name: 'compressor choke',
  subject: 'charge-air',
  kind: 'mass-flow',
  source: 'compressor map: largest corrected flow at this pressure ratio; flow of a map ± 2 %: our default',
};

/** Corrected flow against the largest that the map has at this pressure ratio. */
export function compressorChoke(model: EngineModel, prediction: Prediction, step: Step): Limit {
  return flowLimit(TITLE, { model, prediction, step }, ({ flow, largest }) => ({ required: flow, available: largest }));
}
