import type { Detection, Fault, StopClass, Voids } from '../detector.ts';

/** What the rules about stopping and voiding need of a hypothesis. */
export interface Weighted {
  readonly probability: number;
  readonly detection: Pick<Detection, 'fault' | 'stopClass' | 'voids'>;
}

/**
 * Probability from which a hypothesis of a stop class counts: the worse it would be, the less it takes. A hypothesis of class 3 is
 * never hidden from 0.3 on.
 *
 * @source our default
 */
export const BARS: Readonly<Record<StopClass, number>> = { 0: 0, 1: 0.5, 2: 0.4, 3: 0.3 };

/** States that are measured directly and hurt the engine whatever brought them about: seen clearly, their class counts under any cause. @source our default */
export const DANGEROUS_STATES: readonly Fault[] = [
  'pre-ignition',
  'knock',
  'lean-mixture',
  'oil-pressure-low',
  'turbo-overspeed',
  'over-rev',
];

/** Strength from which a dangerous state counts by itself [1]. @source our default */
const SURE = 0.85;
/** A state in which hardly anything is believed does not count by itself [1]. @source our default */
const SOMETHING = 0.4;

/** Worst class of the hypotheses that pass their bar, and of dangerous states that were seen surely while some fault is more than hardly believed. */
export function stopClassOf(
  hypotheses: readonly Weighted[],
  members: readonly Pick<Detection, 'fault' | 'stopClass' | 'strength'>[],
): StopClass {
  const counted = hypotheses.filter(({ probability, detection }) => probability >= BARS[detection.stopClass]);
  const believed = hypotheses.reduce((sum, { probability }) => sum + probability, 0) >= SOMETHING;
  const states = members.filter(
    ({ fault, strength }) => believed && strength >= SURE && DANGEROUS_STATES.includes(fault),
  );
  const classes = [...counted.map(({ detection }) => detection.stopClass), ...states.map((state) => state.stopClass)];
  return classes.sort((one, other) => other - one)[0] ?? 0;
}

/** What cannot be used in the windows: decided by the summed probability of the hypotheses that say so, from one half on. @source our default: more likely than not */
export function voidsOf(hypotheses: readonly Weighted[]): Voids {
  const share = (wanted: Voids): number =>
    hypotheses.reduce((sum, { probability, detection }) => sum + (detection.voids === wanted ? probability : 0), 0);
  const [power, channel] = [share('power'), share('channel')];
  if (power >= 0.5) return 'power';
  return power + channel >= 0.5 && channel > power ? 'channel' : 'nothing';
}
