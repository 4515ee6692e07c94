import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { boltHold } from './rod-strength.ts';
import { rodForces } from './rods.ts';

const TITLE: LimitTitle = {
  name: 'rod tension',
  subject: 'loads',
  kind: 'force',
  source: 'force balance of the piston; what the rod may carry again and again: as stated, or what its bolts hold',
};

/** Largest tension of a rod over the cycle against what it may carry again and again. */
export function rodTension(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const available = ledger.look('rodTension') ?? boltHold(ledger) ?? ledger.need('rodTension');
  if (!available)
    return unknownLimit(TITLE, { prediction, ledger }, 'rods unknown: state rodTension, or the preload of a bolt');
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: rodForces({ model, prediction, step, ledger }, i).tension,
    available,
  }));
}
