import { GASKET_RESERVE, headMargin } from '../../../../core/physics/index.ts';
import { length, type Measured } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { againstBorder, type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';
import { outsideAir } from '../surroundings.ts';

const TITLE: LimitTitle = {
  name: 'head clamp',
  subject: 'loads',
  kind: 'cylinder-pressure',
  source:
    'stated lift pressure of the weaker bank, or force balance of the fasteners; reserve of the gasket 0.3: common practice, no source',
};

/**
 * Highest cylinder pressure against that at which the head lifts.
 *
 * From a stated lift pressure, else from the fasteners' preload and the sealed diameter less the reserve that a gasket needs.
 */
export function headClamp(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const outside = outsideAir(step, ledger).pressure;
  const available = ledger.look('headLiftPressure') ?? clampedUpTo(ledger, outside);
  if (!available) {
    const why = 'clamp unknown: state headLiftPressure, or clampForce and sealDiameter';
    return unknownLimit(TITLE, { prediction, ledger }, why);
  }
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: againstBorder(predicted(prediction, 'peak pressure', i), model.values.get('headLiftPressure')),
    available,
  }));
}

/** Peak pressure at which the clamp, less the gasket's reserve, is used up [Pa]. */
function clampedUpTo(ledger: Ledger, outside: number): Measured | undefined {
  const clamp = ledger.need('clampForce');
  const diameter = ledger.need('sealDiameter');
  if (!clamp || !diameter) return undefined;
  const { tightUpTo } = headMargin({ clamp, sealedDiameter: length(diameter.value) }, around(100e5, 0));
  const relative = Math.hypot(
    clamp.standardUncertainty / clamp.value,
    (2 * diameter.standardUncertainty) / diameter.value,
    RESERVE_SPREAD / (1 + GASKET_RESERVE),
  );
  return around(tightUpTo + outside, tightUpTo * relative);
}

/** 0.3 … 0.5 as limits: common practice, no source. */
const RESERVE_SPREAD = 0.2 / Math.sqrt(12);
