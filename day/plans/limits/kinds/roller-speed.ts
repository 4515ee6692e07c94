import type { EngineModel, Prediction, Step } from '../../model/engine-model.ts';
import { around } from '../around.ts';
import { type LimitTitle, limitFrom, unknownLimit } from '../balance.ts';
import { ledgerOf } from '../ledger.ts';
import type { Limit } from '../limit.ts';

const TITLE: LimitTitle = {
  name: 'roller speed',
  subject: 'rolls',
  kind: 'speed',
  source: 'kinematics; limit as stated for the roller',
};

/** Surface speed in the gear of the step against what the roller may turn. */
export function rollerSpeed(model: EngineModel, prediction: Prediction, step: Step): Limit {
  const ledger = ledgerOf(model);
  const available = ledger.need('maxSpeed');
  const gear = step.overallRatio === undefined ? ledger.need('overallRatio') : around(step.overallRatio, 0);
  const radius = ledger.need('tyreRadius');
  if (!available || !gear || !radius) {
    return unknownLimit(
      TITLE,
      { prediction, ledger },
      'roller or gear unknown: state maxSpeed, overallRatio and tyreRadius',
    );
  }
  const relative = Math.hypot(gear.standardUncertainty / gear.value, radius.standardUncertainty / radius.value);
  return limitFrom(TITLE, { prediction, ledger }, (i) => {
    const surface = (prediction.speed[i] * radius.value) / gear.value;
    return { required: around(surface, surface * relative), available };
  });
}
