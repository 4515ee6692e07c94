import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import type { LimitTitle } from '../balance.ts';
import type { Limit } from '../limit.ts';
import { speedLimit } from './speed-limit.ts';

const TITLE: LimitTitle = { name: 'valve float', subject: 'loads', kind: 'engine-speed', source: 'as stated' };

/** Engine speed against that at which the valves are known to leave their cams. Springs, masses and lift are not modelled: it is given or unknown. */
export function valveFloat(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  return speedLimit(TITLE, { model, prediction }, 'valveFloatSpeed');
}
