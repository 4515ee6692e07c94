import { meanPistonSpeed } from '../../../../core/physics/index.ts';
import { angularSpeed } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

const TITLE: LimitTitle = {
  name: 'piston speed',
  subject: 'loads',
  kind: 'piston-speed',
  source: 'definition; 20 … 22 m/s of sporting engines, 24 … 26 of racing ones: from memory',
};

/** Mean piston speed against what such engines stand. */
export function pistonSpeed(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const ledger = ledgerOf(model);
  const available = ledger.take('pistonSpeedLimit', { value: 22, standardUncertainty: 1.5, source: 'from memory' });
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: around(meanPistonSpeed(model.engine.stroke, angularSpeed(prediction.speed[i])), 0),
    available,
  }));
}
