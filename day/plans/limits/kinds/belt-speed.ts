import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { speedLimit } from './speed-limit.ts';

const TITLE: LimitTitle = { name: 'belt speed', subject: 'loads', kind: 'engine-speed', source: 'as stated' };

/** Engine speed against that up to which a drive belt or chain is allowed. It is given or unknown. */
export function beltSpeed(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  return speedLimit(TITLE, { model, prediction }, 'beltSpeedLimit');
}
