import type { KnownValue, Step } from '../model/engine-model.ts';
import { borderSeen } from './border-seen.ts';
import type { Foresight } from './foresight.ts';

/** What a clean place of a pull showed: it knocked, or it did not, at this speed, pressure and timing. SI. */
export interface KnockSeen {
  readonly speed: number;
  readonly manifoldPressure: number;
  /** Before top dead centre [rad]; NaN: that of the step, else of the day. */
  readonly timing: number;
  readonly knocked: boolean;
  /** What else was set there; absent: as on the day. */
  readonly step?: Step;
}

/** Knock integral at the border before any pull, and how sharp it is. @source our default */
const BELIEVED = { value: 1, spread: 0.35, sharpness: 0.06 } as const;

/**
 * Knock integral at which this engine knocks, from what the day showed [1]; undefined without evidence that the model can place.
 *
 * Octane and delay of the end gas need not be known: places that knocked and places that did not bracket the border.
 *
 * @valid   evidence of the same fuel; a timing that nobody dared to pass only says that the border lies beyond
 * @source  {@link borderSeen}
 */
export function knockIntegralLimitOf(
  { model, predict }: Foresight,
  seen: readonly KnockSeen[],
): KnownValue | undefined {
  const places = seen.flatMap((one) => {
    const { speed, manifoldPressure, timing, knocked, step } = one;
    const habit = model.habits.timing(speed, manifoldPressure).value;
    const shift = Number.isFinite(timing) ? timing - habit : (step?.timing ?? 0);
    const found = predict({ ...step, manifoldPressure, timing: shift }, Float64Array.of(speed));
    const integral = found.lines['knock integral'].value[0];
    return integral > 0 ? [{ value: integral, passed: knocked }] : [];
  });
  if (places.length === 0) return undefined;
  return {
    name: 'knockIntegralLimit',
    kind: 'ratio',
    ...borderSeen(places, BELIEVED),
    origin: 'measured today',
    source: `knock seen or not at ${places.length} places of the day's pulls`,
  };
}
