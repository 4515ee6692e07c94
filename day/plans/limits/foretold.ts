import type { EngineModel, Prediction, Step } from '../model/engine-model.ts';
import { predict } from '../model/predict.ts';

/** Predictions of one engine that stay in memory. @source our default: a sweep over pressure and what is shown beside it */
const MOST_KEPT = 64;
const KEPT = new WeakMap<EngineModel, Map<string, Prediction>>();

/** As `predict`; the same step at the same speeds is worked out once. What it hands out is shared: it is read, never written. */
export function foretold(model: EngineModel, step: Step, speeds: Float64Array): Prediction {
  const kept = KEPT.get(model) ?? new Map<string, Prediction>();
  KEPT.set(model, kept);
  const key = JSON.stringify([Object.entries(step).sort(), [...speeds]]);
  const known = kept.get(key);
  if (known) return known;
  const made = predict(model, step, speeds);
  const [oldest] = kept.keys();
  if (kept.size >= MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  kept.set(key, made);
  return made;
}
