import type { KnownValue, Step } from '../model/engine-model.ts';
import { borderSeen } from './border-seen.ts';
import type { Foresight } from './foresight.ts';

/** Whether the head lifted at a place of a pull, as the coolant's pressure told. SI. */
export interface HeadLiftSeen {
  readonly speed: number;
  readonly step: Step;
  readonly lifted: boolean;
}

/** Without a stated lift pressure nothing is believed but a wide range about what such heads hold [Pa]. @source common practice, no source: 90 … 160 bar */
const WIDE = { value: 120e5, spread: 0.2 } as const;
/** Relative width of the edge [1]: cycles scatter, and the gasket gives way over a range. @source our default */
const SHARPNESS = 0.025;

/**
 * Peak pressure at which the head lifts, in terms of the model's own peak pressure, from what the day showed [Pa]; undefined without
 * evidence that the model can place.
 *
 * A stated lift pressure is where it starts from, as far as the predicted peak pressure can be trusted against it.
 *
 * @source  {@link borderSeen}
 */
export function headLiftPressureOf(
  { model, predict }: Foresight,
  seen: readonly HeadLiftSeen[],
): KnownValue | undefined {
  let share = 0;
  const places = seen.flatMap(({ speed, step, lifted }) => {
    const peak = predict(step, Float64Array.of(speed)).lines['peak pressure'];
    if (!(peak.value[0] > 0)) return [];
    share = Math.max(share, peak.standardUncertainty[0] / peak.value[0]);
    return [{ value: peak.value[0], passed: lifted }];
  });
  if (places.length === 0) return undefined;
  const told = model.values.get('headLiftPressure');
  const belief = told
    ? { value: told.value, spread: Math.max(0.02, Math.hypot(share || 0, told.standardUncertainty / told.value)) }
    : WIDE;
  return {
    name: 'headLiftPressure',
    kind: 'cylinder-pressure',
    ...borderSeen(places, { ...belief, sharpness: SHARPNESS }),
    origin: 'measured today',
    source: `lift of the head seen or not at ${places.length} places of the day's pulls, in terms of the predicted peak pressure`,
  };
}
