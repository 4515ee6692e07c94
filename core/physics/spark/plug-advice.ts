import { type GaugePressure, type Length, length, type PressureDifference } from '../../quantities/index.ts';

/** A range of practice, low to high, that is no limit. */
export interface PlugRange {
  readonly low: number;
  readonly high: number;
}

/** What practice says about plugs for an engine. Every part of it is to be proved by reading the plugs. */
export interface PlugAdvice {
  /** Heat-range steps colder than the plug of the original engine [1]. */
  readonly colderSteps: PlugRange;
  /** Gap to begin with [m]. */
  readonly gap: Length;
  readonly rule: 'common practice, no source';
}

/** Boost that one heat-range step is worth [Pa]. @source common practice, no source */
const BOOST_PER_STEP: PlugRange = { low: 60e3, high: 80e3 };

/** Gap to begin with up to a boost [Pa gauge, m]. @source common practice, no source */
const GAPS: readonly (readonly [number, number])[] = [
  [100e3, 0.75e-3],
  [150e3, 0.6e-3],
  [200e3, 0.5e-3],
  [Number.POSITIVE_INFINITY, 0.42e-3],
];

/**
 * Heat range and gap to begin with.
 *
 * @param boost highest boost planned [Pa gauge] @param added above that of the original engine [Pa]
 * @valid   a start for trying; too small a gap quenches the young flame and roughens the idle. Tip temperature decides: 450 … 850 °C (from memory)
 * @source  common practice, no source
 */
export function plugAdvice(boost: GaugePressure, added: PressureDifference): PlugAdvice {
  const steps = (perStep: number): number => Math.max(0, Math.round(added / perStep));
  const gap = GAPS.find(([limit]) => boost <= limit)?.[1] ?? GAPS[GAPS.length - 1][1];
  return {
    colderSteps: { low: steps(BOOST_PER_STEP.high), high: steps(BOOST_PER_STEP.low) },
    gap: length(gap),
    rule: 'common practice, no source',
  };
}

/** How the thread of a plug stands in that of the head. */
export type PlugReach = 'right' | 'too short' | 'too long';

/** Difference of thread lengths that still counts as right [m]. @source our default: below one pitch of 1.25 mm */
const SAME_REACH = 1e-3;

/**
 * Whether a plug's thread fits that of the head. Too long can strike the piston; too short bares the head's thread to the flame and
 * hides the spark.
 *
 * @source common practice, no source
 */
export function plugReach(plugThread: Length, headThread: Length): PlugReach {
  const over = plugThread - headThread;
  if (Math.abs(over) <= SAME_REACH) return 'right';
  return over > 0 ? 'too long' : 'too short';
}
