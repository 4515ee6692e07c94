import type { KnownValue, Step } from '../model/engine-model.ts';
import { borderSeen } from './border-seen.ts';
import type { Foresight } from './foresight.ts';
import { limitOf } from './limits-of.ts';

/** Whether ignition broke up at a place of a pull; gap, dwell and coil voltage of that pull belong into the step. SI. */
export interface BreakupSeen {
  readonly speed: number;
  readonly step: Step;
  readonly brokeUp: boolean;
}

/** Demand over supply at which ignition breaks up, before any pull, and the width of that edge [1]. @source ± 15 … 20 % of the forms; scatter from spark to spark: our default */
const BELIEVED = { value: 1, spread: 0.2, sharpness: 0.04 } as const;

/**
 * Factor on the predicted spark demand that makes breakup happen where the day saw it [1]; undefined without evidence that can be placed.
 *
 * Electrodes, equation and coil need not be known: places that broke up and places that did not bracket the border.
 *
 * @source  {@link borderSeen}
 */
export function sparkDemandFactorOf(foresight: Foresight, seen: readonly BreakupSeen[]): KnownValue | undefined {
  const values = new Map(foresight.model.values);
  values.delete('sparkDemandFactor');
  const untaught = { ...foresight, model: { ...foresight.model, values } };
  const places = seen.flatMap(({ speed, step, brokeUp }) => {
    const limit = limitOf(untaught, 'spark voltage', { step, speeds: Float64Array.of(speed) });
    const value = limit.required[0] / limit.available[0];
    return value > 0 ? [{ value, passed: brokeUp }] : [];
  });
  if (places.length === 0) return undefined;
  const border = borderSeen(places, BELIEVED);
  return {
    name: 'sparkDemandFactor',
    kind: 'ratio',
    value: 1 / border.value,
    standardUncertainty: border.standardUncertainty / border.value ** 2,
    origin: 'measured today',
    source: `ignition breakup seen or not at ${places.length} places of the day's pulls`,
  };
}
