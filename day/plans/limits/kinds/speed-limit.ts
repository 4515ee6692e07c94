import type { EngineModel, Prediction } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

/** Engine speed against one that a person stated. */
export function speedLimit(
  title: LimitTitle,
  { model, prediction }: { readonly model: EngineModel; readonly prediction: Prediction },
  fact: string,
): Limit {
  const ledger = ledgerOf(model);
  const available = ledger.need(fact);
  if (!available) return unknownLimit(title, { prediction, ledger }, `no limit stated: state ${fact}`);
  return limitFrom(title, { prediction, ledger }, (i) => ({ required: around(prediction.speed[i], 0), available }));
}
