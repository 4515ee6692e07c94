import { setImmediate as nextTurn } from 'node:timers/promises';
import { type Finding, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import type { Proposal, Recording } from '../../day/channels/index.ts';
import type { DayFacts, EntryFacts, OpenEntry } from '../../day/pulls/index.ts';
import { type DayLogs, type DayReport, judgeDay, METHOD, openedEntry } from '../../day/reports/index.ts';
import { openTable } from '../files/index.ts';
import type { DayFile, Store } from '../store/index.ts';
import type { Work } from './desk.ts';
import { type ReadTable, readTable, recordingOf } from './reading.ts';

/**
 * The workbench: turns raw bytes into tables, recordings and reports, and remembers each step in memory under what it was made of.
 * Everything here can be thrown away; the store has what counts.
 */
export interface Bench {
  table(source: string, file: string, work?: Work): Promise<Outcome<ReadTable>>;
  report(day: DayQuestion, work?: Work): Promise<Outcome<DayReport>>;
  opened(day: DayQuestion, entry: string): Promise<Outcome<OpenEntry>>;
  /** Forgets every table whose set of columns was decided anew. */
  forget(columnSet: string): void;
}

export interface DayQuestion {
  readonly facts: DayFacts;
  readonly files: readonly DayFile[];
}

/** Tables and recordings of this many files stay in memory. @source our default: a long day with two logs an entry */
const KEPT_FILES = 120;

export function bench(store: Store): Bench {
  const tables = new Map<string, ReadTable>();
  const recordings = new Map<string, Outcome<Recording>>();
  const entries = new Map<string, OpenEntry | undefined>();
  const reports = new Map<string, DayReport>();

  const recall = (columnSet: string): ReturnType<Parameters<typeof readTable>[1]> => {
    const found = store.mapping(columnSet);
    return found.ok ? found.value : undefined;
  };

  async function table(source: string, file: string, work: Work = {}): Promise<Outcome<ReadTable>> {
    const known = tables.get(source);
    if (known) return { ok: true, value: known, findings: [] };
    const bytes = await store.raw(source);
    if (!bytes.ok) return bytes;
    const opened = await openTable(bytes.value, { file, ...(work.signal ? { signal: work.signal } : {}) });
    if (!opened.ok) return opened;
    const read = readTable({ ...opened.value, source }, recall);
    keep(tables, source, read, KEPT_FILES);
    return { ok: true, value: read, findings: opened.findings };
  }

  async function logsOf(day: DayQuestion, work: Work): Promise<Outcome<DayLogs>> {
    const found = new Map<string, Recording>();
    const questions = new Map<string, readonly Proposal[]>();
    const findings: Finding[] = [];
    for (const [i, { name, hash }] of day.files.entries()) {
      work.progress?.({ what: `reading ${name}`, share: i / day.files.length });
      await nextTurn();
      if (work.signal?.aborted) return refused(cancelled());
      const read = await table(hash, name);
      if (!read.ok) {
        findings.push(notRead(name, read.refusal));
        continue;
      }
      if (read.value.open.length > 0) questions.set(name, read.value.open);
      const key = `${hash}|${JSON.stringify(read.value.mapping)}`;
      const recording =
        recordings.get(key) ?? recordingOf({ ...read.value, table: { ...read.value.table, file: name } });
      keep(recordings, key, recording, KEPT_FILES);
      if (recording.ok) found.set(name, recording.value);
      else findings.push(notRead(name, recording.refusal));
    }
    return { ok: true, value: { recordings: found, questions, findings }, findings: [] };
  }

  async function openAll(
    day: DayQuestion,
    logs: DayLogs,
    work: Work,
  ): Promise<Outcome<Map<string, OpenEntry | undefined>>> {
    const opened = new Map<string, OpenEntry | undefined>();
    for (const [i, entry] of day.facts.entries.entries()) {
      work.progress?.({ what: `analysing ${entry.id}`, share: i / day.facts.entries.length });
      await nextTurn();
      if (work.signal?.aborted) return refused(cancelled());
      const key = entryKey(day, entry);
      const known = entries.has(key) ? entries.get(key) : openedEntry(entry, day.facts, logs);
      keep(entries, key, known, KEPT_FILES);
      opened.set(entry.id, known);
    }
    return { ok: true, value: opened, findings: [] };
  }

  /** What an opened entry was made of: its facts, its logs with their mappings, and the facts of the whole day it looks at. */
  function entryKey({ facts, files }: DayQuestion, entry: EntryFacts): string {
    const hashes = entry.files.map((file) => files.find(({ name }) => name === file)?.hash ?? '');
    const mappings = hashes.map((hash) => JSON.stringify(tables.get(hash)?.mapping ?? []));
    return JSON.stringify([METHOD, entry, hashes, mappings, facts.vehicle, facts.engine, facts.roller]);
  }

  return {
    table,
    forget(columnSet) {
      for (const [source, read] of tables) if (read.columnSet === columnSet) tables.delete(source);
    },
    async report(day, work = {}) {
      const logs = await logsOf(day, work);
      if (!logs.ok) return logs;
      const key = JSON.stringify([day.facts, day.facts.entries.map((entry) => entryKey(day, entry))]);
      const known = reports.get(key);
      if (known) return { ok: true, value: known, findings: [] };
      const opened = await openAll(day, logs.value, work);
      if (!opened.ok) return opened;
      const report = judgeDay(day.facts, logs.value, opened.value);
      keep(reports, key, report, 8);
      return { ok: true, value: report, findings: [] };
    },
    async opened(day, id) {
      const entry = day.facts.entries.find((one) => one.id === id);
      if (!entry) return refused({ kind: 'unknown-entry', message: `unknown entry: ${id}` });
      const files = day.files.filter(({ name }) => entry.files.includes(name));
      const logs = await logsOf({ ...day, files }, {});
      if (!logs.ok) return logs;
      const open = entries.get(entryKey(day, entry)) ?? openedEntry(entry, day.facts, logs.value);
      if (!open)
        return refused({ kind: 'missing-log', message: `missing log: entry ${id} has none that could be read` });
      return { ok: true, value: open, findings: [] };
    },
  };
}

/** Puts a value into a bounded map; the one that was put first goes first. */
function keep<Value>(map: Map<string, Value>, key: string, value: Value, most: number): void {
  map.delete(key);
  map.set(key, value);
  const oldest = map.keys().next().value;
  if (map.size > most && oldest !== undefined) map.delete(oldest);
}

function notRead(file: string, refusal: Refusal): Finding {
  return {
    kind: 'log-not-read',
    weight: 'fault',
    message: `${file} could not be read: ${refusal.message}`,
    place: { ...refusal.place, file },
    ...(refusal.numbers ? { numbers: refusal.numbers } : {}),
  };
}

function cancelled(): Refusal {
  return { kind: 'cancelled', message: 'cancelled' };
}
