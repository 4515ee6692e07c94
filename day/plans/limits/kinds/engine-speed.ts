import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

const TITLE: LimitTitle = { name: 'engine speed', subject: 'loads', kind: 'engine-speed', source: 'as stated' };

/** Engine speed against the stated redline; a redline that nobody stated is no limit. */
export function engineSpeed(model: EngineModel, prediction: Prediction, _step: Step): Limit {
  const ledger = ledgerOf(model);
  const known = model.values.get('redline');
  const available = known && known.origin !== 'prior' ? ledger.need('redline') : undefined;
  if (!available) return unknownLimit(TITLE, { prediction, ledger }, 'no limit stated: state redline');
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({ required: around(prediction.speed[i], 0), available }));
}
