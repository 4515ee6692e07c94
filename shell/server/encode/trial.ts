import { occurrenceText } from '../../../day/reports/index.ts';
import type { Occurrence, PullVerdict } from '../../../day/verdicts/index.ts';
import { isBelieved } from '../../../day/verdicts/index.ts';
import type { TrialView } from '../../contract/index.ts';
import { encodeStop } from './verdict.ts';

type PullTrial = TrialView['pulls'][number];

/** What would change between two verdicts of the same pulls: which occurrences come, go, or stay and change. */
export function encodeTrial(now: readonly PullVerdict[], trial: readonly PullVerdict[]): TrialView {
  return {
    pulls: now.flatMap((before) => {
      const after = trial.find(({ index }) => index === before.index);
      return after ? [pullTrial(before, after)] : [];
    }),
  };
}

function pullTrial(before: PullVerdict, after: PullVerdict): PullTrial {
  const [one, other] = [counted(before), counted(after)];
  const pairs = one.map((former) => ({ former, later: other.find((later) => sameCause(former, later)) }));
  const kept = new Set(pairs.map(({ later }) => later));
  return {
    index: before.index,
    before: { validity: before.validity, stop: encodeStop(before.stopClass) },
    after: { validity: after.validity, stop: encodeStop(after.stopClass) },
    appears: other.filter((later) => !kept.has(later)).map(encodeLine),
    vanishes: pairs.filter(({ later }) => later === undefined).map(({ former }) => encodeLine(former)),
    moved: pairs.flatMap(({ former, later }) =>
      later && isMoved(former, later) ? [{ before: encodeLine(former), after: encodeLine(later) }] : [],
    ),
  };
}

/** Occurrences that count: believed and not overruled. */
function counted({ occurrences }: PullVerdict): readonly Occurrence[] {
  return occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
}

function sameCause(one: Occurrence, other: Occurrence): boolean {
  return one.hypotheses[0]?.fault === other.hypotheses[0]?.fault && one.channel === other.channel && meet(one, other);
}

function meet({ windows: some }: Occurrence, { windows: others }: Occurrence): boolean {
  return some.some((one) => others.some((other) => one.from <= other.to && other.from <= one.to));
}

/** A hundredth of a second is no news. @source our default */
const NEWS = 0.01;

function isMoved(one: Occurrence, other: Occurrence): boolean {
  return (
    one.stopClass !== other.stopClass ||
    one.windows.length !== other.windows.length ||
    one.windows.some(({ from, to }, at) => {
      const later = other.windows[at];
      return !later || Math.abs(later.from - from) > NEWS || Math.abs(later.to - to) > NEWS;
    })
  );
}

function encodeLine(occurrence: Occurrence): PullTrial['appears'][number] {
  return { sentence: occurrenceText(occurrence), stop: encodeStop(occurrence.stopClass) };
}
