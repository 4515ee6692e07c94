import type { GaugePressure, Length, PressureDifference, Ratio } from '../../quantities/index.ts';

/** A range of practice, low to high, that is no limit. */
export interface PlugRange {
  readonly low: number;
  readonly high: number;
}

/** What practice says about the gap, and about heat range, for an engine. Every part of it is to be proved by reading the plugs. @source common practice, no source */
export const PLUG_RULE = 'common practice, no source';

/** Boost that one heat-range step is worth [Pa]. @source common practice, no source */
const BOOST_PER_STEP: PlugRange = { low: 60e3, high: 80e3 };

/** Added cylinder output that one heat-range step is worth, over that of the original engine [1]. @source common practice, no source */
const OUTPUT_PER_STEP: PlugRange = { low: 0.4, high: 0.5 };

/** Temperature of the tip between which a plug burns itself clean and does not light the charge by itself [K]. @source from memory: 450 … 850 °C, at most 900 °C */
export const PLUG_TIP: PlugRange = { low: 723.15, high: 1123.15 };

/** Gap to begin with up to a boost [Pa gauge; m]. Between 200 and 250 kPa practice says nothing: both neighbours. @source common practice, no source */
const GAPS: readonly (readonly [number, PlugRange])[] = [
  [100e3, { low: 0.7e-3, high: 0.8e-3 }],
  [150e3, { low: 0.6e-3, high: 0.6e-3 }],
  [200e3, { low: 0.5e-3, high: 0.5e-3 }],
  [250e3, { low: 0.45e-3, high: 0.5e-3 }],
  [Number.POSITIVE_INFINITY, { low: 0.4e-3, high: 0.45e-3 }],
];

/**
 * Gap to begin with at a boost [m].
 *
 * @valid   a start for trying: spark supply decides upwards; too small a gap quenches the young flame and roughens the idle
 * @source  common practice, no source
 */
export function usualPlugGap(boost: GaugePressure): PlugRange {
  return GAPS.find(([limit]) => boost <= limit)?.[1] ?? GAPS[GAPS.length - 1][1];
}

/**
 * Heat-range steps colder than the plug of the original engine, not rounded [1]: one for each 60 … 80 kPa of added boost. 0 when none was added.
 *
 * @valid   a start for trying: the temperature of the tip decides, {@link PLUG_TIP}
 * @source  common practice, no source
 */
export function colderStepsForBoost(added: PressureDifference): PlugRange {
  return stepsOf(added, BOOST_PER_STEP);
}

/** The same from the output of a cylinder over that of the original engine [1]: one for each 40 … 50 % added. @source common practice, no source */
export function colderStepsForOutput(outputRatio: Ratio): PlugRange {
  return stepsOf(outputRatio - 1, OUTPUT_PER_STEP);
}

function stepsOf(added: number, perStep: PlugRange): PlugRange {
  return { low: Math.max(0, added / perStep.high), high: Math.max(0, added / perStep.low) };
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
