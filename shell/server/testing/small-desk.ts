import { answered, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import type { Mapping } from '../../../day/channels/index.ts';
import { priorModel } from '../../../day/plans/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { DaySummary, Desk } from '../../desk/index.ts';
import { SMALL_FACTS, smallReport } from './small-day.ts';
import { SMALL_HEALTH } from './small-health.ts';
import { smallReading } from './small-reading.ts';
import { smallLogs, smallRecord } from './small-record.ts';
import { smallVerdict } from './small-verdict.ts';

/** A desk for tests: invented days in memory, no files, no computation. Everything that was decided can be read back. */
export interface SmallDesk extends Desk {
  readonly decided: readonly Mapping[];
  /** Makes every watcher see an entry. */
  appear(entry: string): void;
  /** Makes every watcher hear that a log could not be taken in. */
  hinder(refusal: Refusal): void;
  readonly watchers: () => number;
}

export function smallDesk(first: DayFacts = SMALL_FACTS): SmallDesk {
  const histories = new Map<string, DayFacts[]>([['plateau', [first]]]);
  const decided: Mapping[] = [];
  const watchers = new Set<{ seen: (entry: string) => void; trouble: (refusal: Refusal) => void }>();
  const factsOf = (day: string): Outcome<DayFacts> => {
    const facts = histories.get(day)?.at(-1);
    return facts ? answered(facts) : refused({ kind: 'unknown-day', message: `unknown day: ${day}` });
  };
  const reportOf = (day: string): Outcome<DayReport> => {
    const facts = factsOf(day);
    if (!facts.ok) return facts;
    return answered({
      facts: facts.value,
      entries: facts.value.entries.map(smallReport),
      findings: [],
      cautions: ['Advice, not protection.'],
      method: 'test',
    });
  };
  return {
    decided,
    watchers: () => watchers.size,
    appear: (entry) => {
      for (const { seen } of watchers) seen(entry);
    },
    hinder: (refusal) => {
      for (const { trouble } of watchers) trouble(refusal);
    },
    days: () => [...histories].map(([id, facts]) => summary(id, facts.at(-1))),
    openFolder: async (path) => refused({ kind: 'unknown-folder', message: `unknown folder: ${path}` }),
    newDay: async (facts) => {
      const id = `day-${histories.size + 1}`;
      histories.set(id, [facts]);
      return answered(summary(id, facts));
    },
    facts: factsOf,
    files: () => answered([]),
    setFacts: async (day, facts) => {
      const history = histories.get(day);
      history?.push(facts);
      return factsOf(day);
    },
    undo: async (day) => {
      const history = histories.get(day) ?? [];
      if (history.length < 2) return refused({ kind: 'nothing-to-undo', message: 'nothing to undo' });
      history.pop();
      return factsOf(day);
    },
    ...files(decided),
    ...judged(reportOf),
    ...evidence(factsOf),
    watch: (_day, seen, trouble = () => undefined) => {
      const watcher = { seen, trouble };
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    close: () => watchers.clear(),
  };
}

function summary(id: string, facts: DayFacts | undefined): DaySummary {
  const { title = '', date, invented, entries = [] } = facts ?? {};
  return { id, title, date, folder: undefined, entries: entries.length, invented: invented !== undefined };
}

function judged(reportOf: (day: string) => Outcome<DayReport>): Pick<Desk, 'report' | 'entry' | 'health' | 'trial'> {
  const entryOf = (day: string, id: string): Outcome<EntryReport> => {
    const report = reportOf(day);
    if (!report.ok) return report;
    const found = report.value.entries.find((entry) => entry.facts.id === id);
    return found ? answered(found) : refused({ kind: 'unknown-entry', message: `unknown entry: ${id}` });
  };
  return {
    report: async (day, work) => {
      for (const share of [0.25, 0.75]) work?.progress?.({ what: 'pulls', share });
      return reportOf(day);
    },
    entry: async (day, id) => entryOf(day, id),
    health: async (day) => {
      const report = reportOf(day);
      return report.ok ? answered(SMALL_HEALTH) : report;
    },
    trial: async (day, id, thresholds) => {
      const found = entryOf(day, id);
      if (!found.ok) return found;
      const { facts, result } = found.value;
      const roughness = Number.parseFloat(thresholds['roughness.share'] ?? '2') / 100;
      return answered((result?.pulls ?? []).map((pull) => smallVerdict(facts, pull, roughness)));
    },
  };
}

function evidence(
  factsOf: (day: string) => Outcome<DayFacts>,
): Pick<Desk, 'engine' | 'record' | 'logs' | 'exportFolder' | 'exportEntry'> {
  return {
    engine: async (day) => {
      const facts = factsOf(day);
      if (!facts.ok) return facts;
      const step = { manifoldPressure: 180e3 };
      return answered({ model: priorModel(facts.value), step, from: 'pull-6', findings: [] });
    },
    record: async (day, id) => {
      const facts = factsOf(day);
      if (!facts.ok) return facts;
      const entry = facts.value.entries.find((candidate) => candidate.id === id);
      if (!entry) return refused({ kind: 'unknown-entry', message: `unknown entry: ${id}` });
      if (entry.files.length === 0)
        return refused({ kind: 'missing-record', message: `missing record: ${id} has no logs` });
      return answered(smallRecord());
    },
    logs: async () => answered(smallLogs()),
    exportFolder: async (_day, path) => answered(path),
    exportEntry: async (_day, entry, { part, format }) =>
      answered(new TextEncoder().encode(`${entry} ${part} ${format}`)),
  };
}

function files(decided: Mapping[]): Pick<Desk, 'take' | 'reading' | 'decide'> {
  return {
    take: async (file, bytes) =>
      bytes.length < 8
        ? refused({
            kind: 'missing-columns',
            message: `missing columns: ${file} holds no table`,
            place: { file, line: 1 },
          })
        : answered(smallReading(file, bytes.length)),
    reading: async (source) =>
      source.startsWith('sha-')
        ? answered(smallReading(source.slice(4), 100))
        : refused({ kind: 'unknown-source', message: `unknown source: ${source}` }),
    decide: async (mapping) => {
      decided.push(mapping);
      return answered(undefined);
    },
  };
}
