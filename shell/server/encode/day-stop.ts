import { type EntryReport, occurrenceText } from '../../../day/reports/index.ts';
import {
  type DayHealth,
  type HealthFinding,
  isBelieved,
  type PullVerdict,
  type StopClass,
} from '../../../day/verdicts/index.ts';
import type { DayStop } from '../../contract/index.ts';
import { encodeStop } from './verdict.ts';
import { checkText } from './words.ts';

/**
 * What stands in the way of the next pull: the end of the day from the first pull that called for it and that nobody overruled, else a hold from the newest pull that
 * was judged. Every occurrence that counts is said by the verdict of its pull.
 */
export function dayStop(entries: readonly EntryReport[]): DayStop | undefined {
  const judged = entries.filter(({ verdicts }) => verdicts.length > 0);
  const ended = judged.find(({ verdicts }) => worstOf(verdicts)?.stopClass === 3);
  const newest = judged.at(-1);
  const held = newest && worstOf(newest.verdicts)?.stopClass === 2 ? newest : undefined;
  const entry = ended ?? held;
  const verdict = entry && worstOf(entry.verdicts);
  if (!entry || !verdict) return undefined;
  const counted = verdict.occurrences.filter((one) => one.overruled === undefined && isBelieved(one));
  const cause = counted.find(({ stopClass }) => stopClass === verdict.stopClass);
  return {
    entry: entry.facts.id,
    title: entry.facts.title ?? entry.facts.id,
    stop: encodeStop(verdict.stopClass),
    because: cause ? occurrenceText(cause) : '',
    ...(cause?.next && { next: checkText(cause.next) }),
  };
}

/** The class and the word of what an entry asks for: the worst of its pulls and of what the health of the day found at it. found: what health found, where that is graver. */
export function entryStop(
  { facts, verdicts }: Pick<EntryReport, 'facts' | 'verdicts'>,
  health: Pick<DayHealth, 'findings'> | undefined,
): { readonly stopClass: StopClass; readonly found?: string } {
  const stopClass = worstOf(verdicts)?.stopClass ?? 0;
  const graver = (health?.findings ?? [])
    .filter(({ entry, overruled }) => entry === facts.id && overruled === undefined)
    .filter((finding) => finding.stopClass > stopClass)
    .sort((one, other) => other.stopClass - one.stopClass)[0];
  return graver ? { stopClass: graver.stopClass, found: foundTitle(graver) } : { stopClass };
}

/** What health found, as a title: `coast force rise`. */
export function foundTitle({ kind }: Pick<HealthFinding, 'kind'>): string {
  return kind.replaceAll('-', ' ');
}

/** The verdict with the highest stop class. */
export function worstOf(verdicts: readonly PullVerdict[]): PullVerdict | undefined {
  return [...verdicts].sort((one, other) => other.stopClass - one.stopClass)[0];
}

/** The same from the health of the day: the end from the first entry that called for it, a hold from the newest entry that was judged. */
export function healthStop(
  { findings }: Pick<DayHealth, 'findings'>,
  entries: readonly EntryReport[],
): DayStop | undefined {
  const newest = entries.findLast(({ result }) => result !== undefined)?.facts.id;
  const counted = findings.filter(({ overruled }) => overruled === undefined);
  const found =
    counted.find(({ stopClass }) => stopClass === 3) ??
    counted.findLast(({ stopClass, entry }) => stopClass === 2 && entry === newest);
  if (!found) return undefined;
  const of = entries.find(({ facts }) => facts.id === found.entry);
  return {
    entry: found.entry,
    title: of?.facts.title ?? found.entry,
    stop: encodeStop(found.stopClass),
    because: `${foundTitle(found)}: ${found.why}`,
  };
}

/** The stop of the higher class; the first where both are of one class. */
export function graver(one: DayStop | undefined, other: DayStop | undefined): DayStop | undefined {
  if (!one || !other) return one ?? other;
  return other.stop.class > one.stop.class ? other : one;
}
