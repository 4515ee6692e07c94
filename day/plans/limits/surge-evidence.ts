import type { KnownValue, Step } from '../model/engine-model.ts';
import { borderSeen } from './border-seen.ts';
import type { Foresight } from './foresight.ts';
import { limitOf } from './limits-of.ts';

/** Whether the compressor surged under load at a place of a pull. SI. */
export interface SurgeSeen {
  readonly speed: number;
  readonly step: Step;
  readonly surged: boolean;
}

/**
 * Smallest flow of the map over the engine's at which it surges, before any pull, and the width of that edge [1].
 *
 * @source our default: pulsation and the engine's volumes ± 5 %, flow and pressure ratio as foretold, reading of the map
 */
const BELIEVED = { value: 1, spread: 0.1, sharpness: 0.04 } as const;
/** Clean places must come so near to the map's line to say anything of it [1]. @source our default: one spread below it */
const NEAR = 0.9;

/**
 * Factor on the smallest flow of the map that puts the surge border where the day saw it [1]; undefined without evidence near the map's line.
 *
 * Places that surged and places that ran clean bracket the border in the model's own terms.
 *
 * @valid   the same compressor and pipes before the throttle
 * @source  {@link borderSeen}
 */
export function surgeFlowFactorOf(foresight: Foresight, seen: readonly SurgeSeen[]): KnownValue | undefined {
  const values = new Map(foresight.model.values);
  values.delete('surgeFlowFactor');
  const untaught = { ...foresight, model: { ...foresight.model, values } };
  const places = seen.flatMap(({ speed, step, surged }) => {
    const limit = limitOf(untaught, 'compressor surge', { step, speeds: Float64Array.of(speed) });
    const value = limit.required[0] / limit.available[0];
    return value > 0 ? [{ value, passed: surged }] : [];
  });
  if (!places.some(({ value, passed }) => passed || value > NEAR)) return undefined;
  const border = borderSeen(places, BELIEVED);
  return {
    name: 'surgeFlowFactor',
    kind: 'ratio',
    // a pull that ran clean where the map's smallest flow is 1.2 times the engine's puts the border at less flow
    value: 1 / border.value,
    standardUncertainty: border.standardUncertainty / border.value ** 2,
    origin: 'measured today',
    source: `surge seen or not at ${places.length} places of the day's pulls`,
  };
}
