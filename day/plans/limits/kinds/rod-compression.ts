import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { shankHold } from './rod-strength.ts';
import { rodForces } from './rods.ts';

const TITLE: LimitTitle = {
  name: 'rod compression',
  subject: 'loads',
  kind: 'force',
  source:
    'force balance of the piston; what the rod may carry again and again: as stated, or half of its shank as a column',
};

/** Largest compression of a rod over the cycle against what it may carry again and again. */
export function rodCompression(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const available = ledger.look('rodCompression') ?? shankHold(model, ledger) ?? ledger.need('rodCompression');
  if (!available)
    return unknownLimit(
      TITLE,
      { prediction, ledger },
      'rods unknown: state rodCompression, or the section of the shank',
    );
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: rodForces({ model, prediction, step, ledger }, i).compression,
    available,
  }));
}
