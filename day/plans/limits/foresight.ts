import type { EngineModel, Prediction, Step } from '../model/engine-model.ts';

/** An engine model with what it foretells. The rest of this folder asks through it, so that any predictor can be judged the same way. */
export interface Foresight {
  readonly model: EngineModel;
  /** Speeds in rad/s; the answer's arrays are as long. */
  readonly predict: (step: Step, speeds: Float64Array) => Prediction;
}
