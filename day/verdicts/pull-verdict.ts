import { withoutWindows } from '../pulls/index.ts';
import type { Fault, FaultWindow, StopClass } from './detector.ts';
import { detections } from './detectors.ts';
import type { Occurrence, PullVerdict, Validity, VerdictInput } from './verdict.ts';
import { weigh } from './weighing/weigh.ts';

/** From this probability on an occurrence counts as believed: the sum over its causes. @source our default: more likely than not */
export const BELIEVED = 0.5;
/** A pull of which less than this share of the curve can be used is void. @source our default */
const LEAST_USABLE = 0.1;

/** Was one pull clean, and what spoiled it. */
export function pullVerdict({ scene, index, limits, overruled = {}, factorSpread }: VerdictInput): PullVerdict {
  const said = detections(scene, limits);
  const occurrences = weigh(scene, said, limits)
    .map((occurrence) => withReason(occurrence, overruled))
    .sort(worstFirst);
  const counted = occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
  const voidWindows = joined(counted.filter(({ voids }) => voids === 'power').flatMap(({ windows }) => windows));
  const pull = withoutWindows(scene.pull, voidWindows, factorSpread);
  return {
    entry: scene.entry,
    index,
    validity: validityOf(pull.curve.valid),
    voidWindows,
    stopClass: worstClass(counted),
    occurrences,
    detections: said,
    pull,
  };
}

/** That something was there is more likely than not, whichever cause leads; or what it could be is grave enough to hold: that counts from less on. */
export function isBelieved({ hypotheses, stopClass }: Pick<Occurrence, 'hypotheses' | 'stopClass'>): boolean {
  return stopClass >= 2 || hypotheses.reduce((sum, { probability }) => sum + probability, 0) >= BELIEVED;
}

function withReason(occurrence: Occurrence, overruled: Readonly<Record<string, string>>): Occurrence {
  const fault: Fault | undefined = occurrence.hypotheses[0]?.fault;
  const reason = fault !== undefined && Object.hasOwn(overruled, fault) ? overruled[fault] : undefined;
  return reason === undefined ? occurrence : { ...occurrence, overruled: reason };
}

function worstFirst(one: Occurrence, other: Occurrence): number {
  const set = (occurrence: Occurrence): number => (occurrence.overruled === undefined ? 0 : 1);
  const likely = ({ hypotheses }: Occurrence): number => hypotheses[0]?.probability ?? 0;
  const spoils = ({ voids }: Occurrence): number => (voids === 'power' ? 1 : 0);
  return (
    set(one) - set(other) ||
    other.stopClass - one.stopClass ||
    spoils(other) - spoils(one) ||
    likely(other) - likely(one)
  );
}

function worstClass(occurrences: readonly Occurrence[]): StopClass {
  const classes = occurrences.map(({ stopClass }) => stopClass);
  return classes.sort((one, other) => other - one)[0] ?? 0;
}

function validityOf(valid: Uint8Array): Validity {
  const usable = valid.reduce((sum, ok) => sum + ok, 0);
  if (usable === 0 || usable < LEAST_USABLE * valid.length) return 'void';
  return usable < valid.length ? 'valid in windows' : 'valid';
}

/** Windows that meet made into one, in order of time. */
function joined(windows: readonly FaultWindow[]): readonly FaultWindow[] {
  const result: FaultWindow[] = [];
  for (const window of [...windows].sort((a, b) => a.from - b.from)) {
    const last = result[result.length - 1];
    if (last && window.from <= last.to) {
      result[result.length - 1] = {
        from: last.from,
        to: Math.max(last.to, window.to),
        lowSpeed: Math.min(last.lowSpeed, window.lowSpeed),
        highSpeed: Math.max(last.highSpeed, window.highSpeed),
      };
    } else result.push(window);
  }
  return result;
}
