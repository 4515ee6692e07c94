import type { EngineModel, PredictedLine, Prediction } from '../../model/engine-model.ts';
import { againstBorder, type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { ledgerOf, type Usual } from '../ledger.ts';
import type { Limit } from '../limit.ts';

/** A predicted line against one number: stated, or a usual value. Without either nothing can be said. */
export interface LineLimit {
  readonly line: PredictedLine;
  readonly fact: string;
  readonly usual?: Usual;
  readonly why: string;
}

export function lineLimit(
  title: LimitTitle,
  { model, prediction }: { readonly model: EngineModel; readonly prediction: Prediction },
  { line, fact, usual, why }: LineLimit,
): Limit {
  const ledger = ledgerOf(model);
  const available = usual ? ledger.take(fact, usual) : ledger.need(fact);
  if (!available) return unknownLimit(title, { prediction, ledger }, why);
  return limitFrom(title, { prediction, ledger }, (i) => ({
    required: againstBorder(predicted(prediction, line, i), model.values.get(fact)),
    available,
  }));
}
