import { timeBetweenSparks } from '../../../../core/physics/index.ts';
import { angularSpeed, duration } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { USUAL_DWELL } from './spark-voltage.ts';

const TITLE: LimitTitle = {
  name: 'coil heat',
  subject: 'spark',
  kind: 'fraction',
  source: 'share of the cycle with current; at most 0.6 … 0.7 is common practice, no source',
};

/** Share of the cycle in which a coil carries current, against what it may. One coil per cylinder unless `sparksPerCycle` is known. */
export function coilHeat(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const dwell = step.dwell === undefined ? ledger.take('dwell', USUAL_DWELL) : around(step.dwell, 0.02e-3);
  const most = ledger.take('largestCoilDuty', {
    value: 0.65,
    standardUncertainty: 0.03,
    source: 'common practice, no source',
  });
  const sparksPerCycle = ledger.look('sparksPerCycle')?.value ?? 1;
  return limitFrom(TITLE, { prediction, ledger }, (i) => {
    const pattern = { engineSpeed: angularSpeed(prediction.speed[i]), sparksPerCycle, sparkDuration: duration(0) };
    const between = timeBetweenSparks(pattern);
    return { required: around(dwell.value / between, dwell.standardUncertainty / between), available: most };
  });
}
