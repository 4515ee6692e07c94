import { surfaceCurve } from '../../../core/physics/index.ts';
import { length, ratio } from '../../../core/quantities/index.ts';
import type { Foresight } from '../limits/foresight.ts';
import type { EngineModel, PredictedCurve, Prediction, Step } from '../model/engine-model.ts';

/**
 * What is foretold with a driving force also where no coast-down told the losses of axle and tyres: these are then left out.
 *
 *     F = T·i·η/r,   P = F·v
 *
 * @valid   the force is rather too large, as what is left out would be taken from it
 * @source  {@link surfaceCurve}; JCGM 100:2008, equation 12
 */
export function withDriving({ model, predict }: Foresight): Foresight {
  return {
    model,
    predict: (step, speeds) => {
      const found = predict(step, speeds);
      return isForetold(found) ? found : withoutLosses(model, found, step);
    },
  };
}

/** Whether the driving force of a step comes with the losses of axle and tyres. */
export function isForetold({ lines }: Prediction): boolean {
  return lines['wheel force'].value.some(Number.isFinite);
}

function withoutLosses(model: EngineModel, found: Prediction, step: Step): Prediction {
  const known = (name: string) => model.values.get(name) ?? { value: Number.NaN, standardUncertainty: Number.NaN };
  const gear =
    step.overallRatio === undefined ? known('overallRatio') : { value: step.overallRatio, standardUncertainty: 0 };
  const [radius, lost] = [known('tyreRadius'), known('torqueLoss')];
  const torque = found.lines['engine torque'];
  const { speed, force } = surfaceCurve(
    { speed: found.speed, torque: torque.value },
    { ratio: ratio(gear.value), efficiency: ratio(1 - lost.value), tyreRadius: length(radius.value) },
  );
  const shares = [
    radius.standardUncertainty / radius.value,
    lost.standardUncertainty / (1 - lost.value),
    gear.standardUncertainty / gear.value,
  ];
  const curve = (kind: PredictedCurve['kind'], value: Float64Array): PredictedCurve => ({
    kind,
    value,
    standardUncertainty: value.map(
      (one, i) => Math.abs(one) * Math.hypot(torque.standardUncertainty[i] / torque.value[i], ...shares),
    ),
  });
  const lines = {
    ...found.lines,
    'wheel force': curve('force', force),
    'wheel power': curve(
      'power',
      force.map((F, i) => F * speed[i]),
    ),
  };
  return { ...found, lines };
}
