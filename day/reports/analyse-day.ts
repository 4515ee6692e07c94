import type { Finding } from '../../core/quantities/index.ts';
import type { Proposal, Recording } from '../channels/index.ts';
import {
  type DayCoast,
  type DayFacts,
  daySlipReference,
  type EntryFacts,
  type EntryResult,
  entryResult,
  keptStep,
  lossModel,
  type OpenEntry,
  openEntry,
  type StepMemory,
  secondsOfDay,
  withDayClocks,
} from '../pulls/index.ts';
import { type DayVerdicts, dayVerdicts } from '../verdicts/index.ts';
import { CAUTIONS } from './cautions.ts';
import type { DayReport, EntryReport, UnreadLog } from './day-report.ts';
import { entrySentence } from './sentence.ts';

/** Version of the method. Any change in a computed number raises it. */
export const METHOD = '4';

/** The day's logs as far as they could be read, by file name, and the columns that wait for a person. */
export interface DayLogs {
  readonly recordings: ReadonlyMap<string, Recording>;
  readonly questions: ReadonlyMap<string, readonly Proposal[]>;
  readonly findings: readonly Finding[];
  /** Why a log could not be read, by file name. */
  readonly unread?: ReadonlyMap<string, string>;
}

/** Everything that can be said about a day from its facts and logs. Entries are read one by one, then judged with the whole day known. */
export function analyseDay(facts: DayFacts, logs: DayLogs): DayReport {
  const opened = new Map(facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, logs)]));
  const rated = withDayClocks(opened);
  const report = judgeDay(facts, logs, { rated });
  return withVerdicts(report, dayVerdicts({ facts, rated, results: resultsOf(report) }));
}

/** Result of each entry by its id: what the verdicts are made from. */
export function resultsOf({ entries }: DayReport): ReadonlyMap<string, EntryResult | undefined> {
  return new Map(entries.map(({ facts, result }) => [facts.id, result]));
}

/** A day's report with its verdicts: power in void windows is left out of curves and peaks, and the sentences say so. */
export function withVerdicts(report: DayReport, { pulls, findings }: DayVerdicts): DayReport {
  const entries = report.entries.map((entry): EntryReport => {
    const verdicts = pulls.filter((verdict) => verdict.entry === entry.facts.id);
    if (verdicts.length === 0 || !entry.result) return entry;
    const result = { ...entry.result, pulls: verdicts.map(({ pull }) => pull) };
    const told = { ...entry, verdicts, result };
    return { ...told, sentence: entrySentence(told) };
  });
  return { ...report, entries, findings: [...report.findings, ...findings] };
}

/** One entry's own part, so that a caller can keep it while the rest of the day grows. */
export function openedEntry(entry: EntryFacts, facts: DayFacts, logs: DayLogs): OpenEntry | undefined {
  const recordings = entry.files.flatMap((file) => logs.recordings.get(file) ?? []);
  return entry.excluded === undefined ? openEntry(entry, recordings, facts) : undefined;
}

/** A day whose entries are on the day's clocks (`withDayClocks`). memory: keeps what was worked out about entries of which nothing changed. */
export interface RatedDay {
  readonly rated: ReadonlyMap<string, OpenEntry | undefined>;
  readonly memory?: StepMemory | undefined;
}

/** The second part of the analysis: what the whole day says about each opened entry. */
export function judgeDay(facts: DayFacts, logs: DayLogs, day: RatedDay): DayReport {
  const steps = judgingSteps(facts, logs, day);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** The same, entry by entry, for whoever must give way to others in between. */
export function* judgingSteps(
  facts: DayFacts,
  logs: DayLogs,
  { rated, memory }: RatedDay,
): Generator<EntryReport, DayReport> {
  const places = entryPlaces(facts.entries);
  const coasts = dayCoasts(rated, places);
  const reference = daySlipReference(rated, memory);
  const { entries: _, ...day } = facts;
  const dayKey = JSON.stringify(day);
  const entries: EntryReport[] = [];
  for (const entry of facts.entries) {
    const open = rated.get(entry.id);
    const place = places.get(entry.id) ?? { clock: 0, block: 0 };
    const knowledge = { losses: lossModel(coasts, place.clock, place.block), reference: reference.get(entry.id) };
    const result = open && resultOf({ open, knowledge, facts, dayKey }, memory);
    const unread = unreadOf(entry, logs);
    const told = { facts: entry, result, verdicts: [], ...(unread.length > 0 ? { unread } : {}) };
    const report = { ...told, sentence: entrySentence(told), questions: questionsOf(entry, logs) };
    entries.push(report);
    yield report;
  }
  return { facts, entries, findings: logs.findings, cautions: CAUTIONS, method: METHOD };
}

/** What of a day the result of one entry is made from. dayKey: every fact of the day but its entries, as text. */
interface ResultInput {
  readonly open: OpenEntry;
  readonly knowledge: Parameters<typeof entryResult>[1];
  readonly facts: DayFacts;
  readonly dayKey: string;
}

const resultOf = keptStep(
  ({ open, knowledge, facts }: ResultInput) => entryResult(open, knowledge, facts),
  ({ open, knowledge: { losses, reference }, dayKey }, nameOf) =>
    JSON.stringify([nameOf(open), losses?.key, reference, dayKey]),
);

interface EntryPlace {
  readonly clock: number;
  readonly block: number;
}

/** Time of the day [s] and block of each entry. Without a clock time entries follow one another ten minutes apart. */
function entryPlaces(entries: readonly EntryFacts[]): ReadonlyMap<string, EntryPlace> {
  const places = new Map<string, EntryPlace>();
  let clock = 0;
  let block = 0;
  for (const entry of entries) {
    clock = secondsOfDay(entry.clock) ?? clock + 600;
    if (entry.kind === 'change') block += 1;
    places.set(entry.id, { clock, block });
  }
  return places;
}

function dayCoasts(
  opened: ReadonlyMap<string, OpenEntry | undefined>,
  places: ReadonlyMap<string, EntryPlace>,
): readonly DayCoast[] {
  return [...opened].flatMap(([entry, open]) => {
    const place = places.get(entry) ?? { clock: 0, block: 0 };
    return (open?.losses ?? []).map((fit) => ({ entry, ...place, fit }));
  });
}

function questionsOf(entry: EntryFacts, logs: DayLogs): EntryReport['questions'] {
  return entry.files.flatMap((file) => {
    const proposals = logs.questions.get(file) ?? [];
    return proposals.length > 0 ? [{ file, proposals }] : [];
  });
}

function unreadOf(entry: EntryFacts, { recordings, unread }: DayLogs): readonly UnreadLog[] {
  return entry.files.flatMap((file) => {
    const why = unread?.get(file);
    return why === undefined || recordings.has(file) ? [] : [{ file, why }];
  });
}
