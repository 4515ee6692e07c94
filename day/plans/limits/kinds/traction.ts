import { adhesionAt, USUAL_ADHESION } from '../../../../core/physics/index.ts';
import { type Measured, STANDARD_GRAVITY, temperature } from '../../../../core/quantities/index.ts';
import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, predicted, unknownLimit } from '../balance.ts';
import { type Ledger, ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

const TITLE: LimitTitle = {
  name: 'traction',
  subject: 'traction',
  kind: 'force',
  source: "Coulomb's law; grip as stated or measured, else 0.5 … 0.7 on smooth twin rolls: common practice, no source",
};

/** Driving force at the rolls against what the tyres hold under axle load and straps. */
export function traction(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const axle = ledger.need('axleLoad');
  if (!axle) return unknownLimit(TITLE, { prediction, ledger }, 'axle load unknown: state axleLoad');
  const none = { value: 0, standardUncertainty: 0, source: 'our default: no straps pull down unless somebody says so' };
  // straps bed in: a stated tension is known to a tenth at best (our default)
  const straps =
    step.strapForce === undefined ? ledger.take('strapForce', none) : around(step.strapForce, 0.1 * step.strapForce);
  const grip = gripOf(ledger, step);
  const load = axle.value + straps.value + STANDARD_GRAVITY * (step.ballast ?? 0);
  const available = around(
    grip.value * load,
    Math.hypot(
      grip.standardUncertainty * load,
      grip.value * axle.standardUncertainty,
      grip.value * straps.standardUncertainty,
    ),
  );
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: predicted(prediction, 'wheel force', i),
    available,
  }));
}

/** Grip [1]; where tread temperature and its effect are known, at that temperature. */
function gripOf(ledger: Ledger, step: Step): Measured {
  const cold = ledger.take('grip', { ...USUAL_ADHESION['twin smooth'], source: 'common practice, no source' });
  const tread =
    step.treadTemperature === undefined ? ledger.look('treadTemperature') : around(step.treadTemperature, 0);
  const knee = ledger.look('gripKnee');
  const perKelvin = ledger.look('gripPerKelvin');
  if (!tread || !knee || !perKelvin) return cold;
  const at = adhesionAt({ cold, knee: temperature(knee.value), perKelvin: perKelvin.value }, temperature(tread.value));
  return around(at.value, Math.hypot(at.standardUncertainty, perKelvin.value * tread.standardUncertainty));
}
