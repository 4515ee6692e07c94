import { REVOLUTION } from '../../../core/quantities/index.ts';
import type { EngineModel, Step } from '../model/engine-model.ts';
import { judgedFrom } from '../model/held.ts';

const RPM = REVOLUTION / 60;
const LOWEST = 2500 * RPM;
const STEP = 500 * RPM;

/** Engine speeds at which limits are looked for when nobody names any [rad/s]: from 2 500 rpm to the redline in steps of 500. @source our default */
export function usualSpeeds(model: EngineModel): Float64Array {
  const redline = model.values.get('redline')?.value ?? 6500 * RPM;
  const speeds: number[] = [];
  for (let speed = Math.min(LOWEST, 0.5 * redline); speed < redline - 0.25 * STEP; speed += STEP) speeds.push(speed);
  return Float64Array.from([...speeds, redline]);
}

/**
 * Which engine speeds are judged for a step: those at which the day's pulls held such a pressure, and a little below. Every one where no pull
 * tells, or where none would be left. As long as `speeds`.
 */
export function judgedSpeeds(model: EngineModel, step: Step, speeds: Float64Array): readonly boolean[] {
  const from = judgedFrom(model, step.manifoldPressure);
  const judged = [...speeds].map((speed) => speed >= from);
  return judged.includes(true) ? judged : judged.map(() => true);
}
