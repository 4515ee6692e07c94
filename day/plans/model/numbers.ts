import type { EngineModel } from './engine-model.ts';
import type { Numbers } from './operating-point.ts';
import { type Parameter, parametersOf } from './parameters.ts';

/** Something uncertain that a prediction rests on: its place in the numbers and one standard uncertainty. */
export interface Uncertain {
  readonly name: string;
  readonly spread: number;
}

/** Best numbers of a model by name: values of the parts, with parameters as calibrated or as believed before. */
export function numbersOf(model: Pick<EngineModel, 'values' | 'parameters'>): Numbers {
  const numbers: Record<string, number> = {};
  for (const { name, mean } of parametersOf(model.values)) numbers[name] = mean;
  for (const [name, { value }] of model.values) numbers[name] = value;
  for (const { name, value } of model.parameters) numbers[name] = value;
  for (const name of ['lossConstant', 'lossSlope', 'lossSquare', 'overallRatio', 'injectorFlow', 'coolerPumpFlow']) {
    numbers[name] ??= Number.NaN;
  }
  return numbers;
}

/** Values that no fit moves and that a prediction feels. */
const FIXED = [
  ...(['injectorPressure', 'plugGap', 'torqueLoss', 'lossConstant', 'tyreRadius', 'rodLength'] as const),
  ...(['coolerWater', 'coolerIce', 'coolerWaterTemperature', 'coolerTimeConstant'] as const),
] as const;

/** Parameters in the order of the model's covariance, then other values, then what the control does and the air. */
export function uncertainOf(model: EngineModel): {
  readonly parameters: readonly Uncertain[];
  readonly fixed: readonly Uncertain[];
} {
  const believed: readonly Parameter[] = parametersOf(model.values);
  const parameters =
    model.parameters.length > 0
      ? model.parameters.map(({ name, standardUncertainty }) => ({ name, spread: standardUncertainty }))
      : believed.map(({ name, spread }) => ({ name, spread }));
  const own = new Set(parameters.map(({ name }) => name));
  const fixed = FIXED.flatMap((name) => {
    const spread = model.values.get(name)?.standardUncertainty ?? 0;
    return spread > 0 && !own.has(name) ? [{ name, spread }] : [];
  });
  return { parameters, fixed };
}
