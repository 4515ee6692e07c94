import { gasModel } from '../../../core/physics/index.ts';
import { measured } from '../../../core/quantities/index.ts';
import type { EngineModel, Habits, Step } from './engine-model.ts';
import { fuelNumbers } from './engine-of.ts';
import { fuelOf } from './fuel-of.ts';
import { FULL_LOAD_LAMBDA } from './habits.ts';

const KEPT = new WeakMap<EngineModel, Map<string, EngineModel>>();

/**
 * The same engine on the fuel that a step names; itself where it names none. Timing stays as on the day; the mixture becomes that usual for the new
 * fuel at full load, less or more by what the day's control differed from the usual.
 *
 * @valid   an engine of the same kind of ignition; what the day taught of its knock border is in the model's own terms and is carried over
 * @source  usual mixtures: common practice, no source
 */
export function onFuel(model: EngineModel, { fuel, ethanolShare }: Step): EngineModel {
  if (fuel === undefined && ethanolShare === undefined) return model;
  const name = fuel ?? (ethanolShare === 0 ? 'petrol' : 'ethanol blend');
  const kept = KEPT.get(model) ?? new Map<string, EngineModel>();
  KEPT.set(model, kept);
  const key = `${name} ${ethanolShare ?? ''}`;
  const known = kept.get(key);
  if (known) return known;
  const numbers = fuelNumbers((one) => model.values.get(one)?.value ?? Number.NaN);
  const gas = gasModel(
    fuelOf({ name }, { ...numbers, ethanolShare: ethanolShare ?? Number.NaN, stoichiometricRatio: Number.NaN }),
  );
  const share = FULL_LOAD_LAMBDA[name] / FULL_LOAD_LAMBDA[model.fuel ?? 'petrol'];
  const lambda: Habits['lambda'] = (speed, pressure) => {
    const before = model.habits.lambda(speed, pressure);
    return measured(before.value * share, Math.hypot(before.standardUncertainty, share === 1 ? 0 : MIXTURE_SPREAD));
  };
  const made = { ...model, gas, fuel: name, habits: { ...model.habits, lambda } };
  kept.set(key, made);
  return made;
}

/** What the mixture on another fuel is known to [1]. @source our default */
const MIXTURE_SPREAD = 0.03;
