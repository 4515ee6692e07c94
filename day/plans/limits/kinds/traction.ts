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
  const contact = tyreContact(ledger, step);
  if (!contact) return unknownLimit(TITLE, { prediction, ledger }, 'axle load unknown: state axleLoad');
  return limitFrom(TITLE, { prediction, ledger }, (i) => ({
    required: predicted(prediction, 'wheel force', i),
    available: contact.limit,
  }));
}

/** What presses the driven tyres on the rolls [N], of it the axle's own load and the straps' pull, and how they grip [1]; limit: driving force that they hold [N]. */
export interface TyreContact {
  readonly axle: Measured;
  readonly straps: Measured;
  readonly load: Measured;
  readonly grip: Measured;
  readonly limit: Measured;
}

/** Contact of the driven tyres in a step; undefined where the axle load is not known. */
export function tyreContact(ledger: Ledger, step: Step): TyreContact | undefined {
  const axle = ledger.need('axleLoad');
  if (!axle) return undefined;
  const none = { value: 0, standardUncertainty: 0, source: 'our default: no straps pull down unless somebody says so' };
  // straps bed in: a stated tension is known to a tenth at best (our default)
  const straps =
    step.strapForce === undefined ? ledger.take('strapForce', none) : around(step.strapForce, 0.1 * step.strapForce);
  const load = around(
    axle.value + straps.value + STANDARD_GRAVITY * (step.ballast ?? 0),
    Math.hypot(axle.standardUncertainty, straps.standardUncertainty),
  );
  const grip = gripOf(ledger, step);
  const limit = around(
    grip.value * load.value,
    Math.hypot(grip.standardUncertainty * load.value, grip.value * load.standardUncertainty),
  );
  return { axle, straps, load, grip, limit };
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
