import type { Detection, Fault, StopClass, Voids } from '../detector.ts';
import { isBlindTwin } from './heard.ts';
import { SUMMARY } from './look-alikes.ts';

/** What the rules about stopping and voiding need of a hypothesis. */
export interface Weighted {
  readonly probability: number;
  readonly detection: Pick<Detection, 'fault' | 'answer' | 'stopClass' | 'voids'> & {
    readonly missing?: readonly string[] | undefined;
  };
}

/**
 * Probability from which a stop class counts: that of all hypotheses of this class or a worse one together. The worse it would be, the less it
 * takes; a hypothesis of class 3 is never hidden from 0.3 on, also behind a likelier harmless one.
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

/** From here on a cause explains what was seen [1]. @source our default: more likely than not */
const BELIEVED = 0.5;

/** Strength of a surge from which it counts under any cause: a drive that fails shakes no air [1]. @source our default */
const SWINGS = 0.8;
/** Strength of a shortfall from which it counts where nothing explains it [1]. @source our default: more than twice its limit */
const SHORT = 0.8;

/** Classes of faults that are as grave however much of them there is: where their detector could not tell, they count with it beside something seen that holds by itself. @source common practice, no source */
const GRAVE_ANYHOW: Partial<Record<Fault, StopClass>> = { 'pre-ignition': 3 };

/** A light knock that retard takes away is no hint of anything graver. @source common practice, no source */
const GRAVE_FROM: StopClass = 2;

/** What a leader says of stop and void holds for a twin that only its missing channel hides: it would look the same, and be no better. */
export function withBlindTwins<One extends Weighted>(
  hypotheses: readonly One[],
  leader: Pick<Detection, 'fault' | 'answer' | 'stopClass' | 'voids'>,
): readonly Weighted[] {
  const { stopClass, voids } = leader;
  return hypotheses.map(({ probability, detection }) =>
    isBlindTwin(leader, detection)
      ? { probability, detection: { fault: detection.fault, answer: 'seen', stopClass, voids } }
      : { probability, detection },
  );
}

function classOf({ fault, answer, stopClass }: Weighted['detection'], grave: boolean): StopClass {
  return answer === 'cannot tell' && grave ? (GRAVE_ANYHOW[fault] ?? stopClass) : stopClass;
}

/** Worst class that passes its bar, of a dangerous state that was seen surely while some fault is more than hardly believed, of a surge that was seen, or of a sure shortfall that nothing explains. */
export function stopClassOf(
  hypotheses: readonly Weighted[],
  members: readonly Pick<Detection, 'fault' | 'stopClass' | 'strength'>[],
): StopClass {
  const grave = hypotheses.some(({ detection }) => detection.answer === 'seen' && detection.stopClass >= GRAVE_FROM);
  const share = (least: StopClass): number =>
    hypotheses.reduce(
      (sum, { probability, detection }) => sum + (classOf(detection, grave) >= least ? probability : 0),
      0,
    );
  const counted = CLASSES.filter((one) => share(one) >= BARS[one]);
  const states = members.filter(
    ({ fault, strength }) => share(0) >= SOMETHING && strength >= SURE && DANGEROUS_STATES.includes(fault),
  );
  // Power that is surely short and that no believed cause explains stays so, whatever else was seen faintly in it.
  const explained = hypotheses.some(({ probability }) => probability >= BELIEVED);
  const unexplained = members.filter(({ fault, strength }) => !explained && fault === SUMMARY && strength >= SHORT);
  const swings = members.filter(({ fault, strength }) => fault === 'surge' && strength >= SWINGS);
  const classes = [...counted, ...[...states, ...unexplained, ...swings].map(({ stopClass }) => stopClass)];
  return classes.sort((one, other) => other - one)[0] ?? 0;
}

const CLASSES: readonly StopClass[] = [1, 2, 3];

/**
 * What cannot be used in the windows, once it is more likely than not that something was there: what the hypotheses that were seen say, each
 * with its weight.
 *
 * @source our default: more likely than not
 */
export function voidsOf(hypotheses: readonly Weighted[]): Voids {
  const total = hypotheses.reduce((sum, { probability }) => sum + probability, 0);
  if (total < 0.5) return 'nothing';
  const share = (wanted: Voids): number =>
    hypotheses.reduce((sum, { probability, detection }) => sum + (detection.voids === wanted ? probability : 0), 0);
  const [power, channel] = [share('power'), share('channel')];
  if (power > total / 2) return 'power';
  return power + channel > total / 2 && channel > power ? 'channel' : 'nothing';
}
