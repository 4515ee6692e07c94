import { randomUUID } from 'node:crypto';
import { basename } from 'node:path';
import { answered, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import type { Mapping } from '../../day/channels/index.ts';
import {
  type DayFacts,
  type EntryLogs,
  type JoinedRecord,
  type OpenEntry,
  withSensorDelays,
} from '../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../day/reports/index.ts';
import type { DayHealth, PullVerdict } from '../../day/verdicts/index.ts';
import { openStore, type Store, type StoredDay } from '../store/index.ts';
import { Bench, type DayQuestion } from './bench.ts';
import type { DayEngine, DaySummary, DayWish, Desk, EntryExport, FileReading, HealthWish, Work } from './desk.ts';
import { exportDay } from './export-day.ts';
import { exportedCurves, exportedRecord } from './export-entry.ts';
import { fileReading, unknownDay, unknownEntry } from './reading.ts';
import { isForSoundReader, soundReading } from './sounds.ts';
import { takeFolder } from './take-folder.ts';
import { watchFolder } from './watch-folder.ts';

export interface DeskOptions {
  /** Folder of the store; made when it is not there. */
  readonly directory: string;
  /** The caller's clock: ISO text. */
  readonly now: () => string;
}

/** Opens the desk on a store. Refused when the store cannot be opened. */
export async function openDesk({ directory, now }: DeskOptions): Promise<Outcome<Desk>> {
  const store = await openStore(directory);
  return store.ok ? answered(new StoreDesk(store.value, now)) : store;
}

/** The desk on a store: facts and bytes come from there, everything else is computed on the bench. */
class StoreDesk implements Desk {
  private readonly store: Store;
  private readonly bench: Bench;
  private readonly now: () => string;
  /** Logs taken in and not yet named by an entry: name → hash. */
  private readonly taken = new Map<string, string>();

  constructor(store: Store, now: () => string) {
    this.store = store;
    this.bench = new Bench(store);
    this.now = now;
  }

  days(): readonly DaySummary[] {
    const days = this.store.days();
    return (days.ok ? days.value : []).flatMap((day) => {
      const state = this.store.facts(day.id);
      return state.ok ? [summaryOf(day, state.value.facts)] : [];
    });
  }

  async openFolder(path: string): Promise<Outcome<DaySummary>> {
    const taken = await takeFolder(this.store, path, this.now);
    if (!taken.ok) return taken;
    const summary = this.summary(taken.value);
    return summary.ok ? answered(summary.value, taken.findings) : summary;
  }

  async newDay(facts: DayFacts): Promise<Outcome<DaySummary>> {
    const id = randomUUID();
    const named = await this.store.addDay({ id, facts, at: this.now(), why: 'new day' });
    if (!named.ok) return named;
    const files = await this.nameTaken(id, facts);
    return files.ok ? this.summary(id) : files;
  }

  facts(day: string): Outcome<DayFacts> {
    const state = this.store.facts(day);
    return state.ok ? answered(state.value.facts) : state;
  }

  files(day: string): ReturnType<Desk['files']> {
    return this.store.files(day);
  }

  async setFacts(day: string, facts: DayFacts, why: string): Promise<Outcome<DayFacts>> {
    const named = await this.nameTaken(day, facts);
    if (!named.ok) return named;
    const state = await this.store.setFacts(day, facts, { at: this.now(), why });
    return state.ok ? answered(state.value.facts) : state;
  }

  async undo(day: string): Promise<Outcome<DayFacts>> {
    const state = await this.store.undo(day, { at: this.now(), why: 'undo' });
    return state.ok ? answered(state.value.facts) : state;
  }

  async take(file: string, bytes: Uint8Array, work?: Work): Promise<Outcome<FileReading>> {
    const name = basename(file);
    const kept = await this.store.keepRaw(bytes, { name, at: this.now() });
    if (!kept.ok) return kept;
    this.taken.set(name, kept.value);
    return this.readingOf(kept.value, { file: name, bytes: bytes.length, work });
  }

  async reading(source: string): Promise<Outcome<FileReading>> {
    const origin = this.store.source(source);
    if (!origin.ok) return origin;
    return this.readingOf(source, { file: origin.value.name, bytes: origin.value.bytes, work: undefined });
  }

  async decide(mapping: Mapping): Promise<Outcome<void>> {
    const kept = await this.store.rememberMapping(mapping, this.now());
    if (!kept.ok) return kept;
    this.bench.forget(mapping.columnSet);
    return answered(undefined);
  }

  async report(day: string, wish?: DayWish): Promise<Outcome<DayReport>> {
    const asked = this.question(day, wish?.thresholds);
    return asked.ok ? this.bench.report(asked.value, wish) : asked;
  }

  async entry(day: string, id: string, work?: Work): Promise<Outcome<EntryReport>> {
    const report = await this.report(day, work);
    if (!report.ok) return report;
    const entry = report.value.entries.find(({ facts }) => facts.id === id);
    return entry ? answered(entry) : unknownEntry(id);
  }

  async trial(
    day: string,
    entry: string,
    thresholds: Readonly<Record<string, string>>,
  ): Promise<Outcome<readonly PullVerdict[]>> {
    const asked = this.question(day);
    return asked.ok ? this.bench.trial(asked.value, entry, thresholds) : asked;
  }

  async health(day: string, wish?: HealthWish): Promise<Outcome<DayHealth>> {
    const asked = this.question(day, wish?.thresholds);
    return asked.ok ? this.bench.health(asked.value, wish) : asked;
  }

  async engine(day: string, work?: Work): Promise<Outcome<DayEngine>> {
    const asked = this.question(day);
    return asked.ok ? this.bench.engine(asked.value, work) : asked;
  }

  async record(day: string, entry: string): Promise<Outcome<JoinedRecord>> {
    const opened = await this.opened(day, entry);
    return opened.ok ? answered(withSensorDelays(opened.value.joined.record)) : opened;
  }

  async logs(day: string, entry: string): Promise<Outcome<EntryLogs>> {
    const opened = await this.opened(day, entry);
    return opened.ok ? answered(opened.value.joined.logs) : opened;
  }

  watch(day: string, seen: (entry: string) => void, trouble?: (refusal: Refusal) => void): () => void {
    return watchFolder({
      store: this.store,
      day,
      now: this.now,
      trouble: (refusal) => trouble?.(refusal),
      arrived: async (entry) => {
        const report = await this.report(day);
        if (!report.ok) trouble?.(report.refusal);
        seen(entry);
      },
    });
  }

  async exportEntry(day: string, id: string, { part, format }: EntryExport): Promise<Outcome<Uint8Array>> {
    if (part === 'channels') {
      const record = await this.record(day, id);
      return record.ok ? answered(exportedRecord(record.value, format)) : record;
    }
    const entry = await this.entry(day, id);
    if (!entry.ok) return entry;
    const pulls = entry.value.result?.pulls ?? [];
    if (pulls.length > 0) return answered(exportedCurves(pulls, format));
    return refused({ kind: 'missing-curve', message: `missing curve: entry ${id} has none`, numbers: { entry: id } });
  }

  async exportFolder(day: string, path: string): Promise<Outcome<string>> {
    const asked = this.question(day);
    return asked.ok ? exportDay(this.store, asked.value, path) : asked;
  }

  close(): void {
    this.store.close();
  }

  private question(day: string, thresholds: DayWish['thresholds'] = {}): Outcome<DayQuestion> {
    const state = this.store.facts(day);
    if (!state.ok) return state;
    const files = this.store.files(day);
    if (!files.ok) return files;
    const { facts } = state.value;
    const all = { ...facts.thresholds, ...thresholds };
    return answered({ facts: Object.keys(all).length > 0 ? { ...facts, thresholds: all } : facts, files: files.value });
  }

  private summary(id: string): Outcome<DaySummary> {
    const days = this.store.days();
    if (!days.ok) return days;
    const day = days.value.find((one) => one.id === id);
    if (!day) return unknownDay(id);
    const state = this.store.facts(id);
    return state.ok ? answered(summaryOf(day, state.value.facts)) : state;
  }

  private async opened(day: string, entry: string): Promise<Outcome<OpenEntry>> {
    const asked = this.question(day);
    return asked.ok ? this.bench.opened(asked.value, entry) : asked;
  }

  /** A log that an entry names for the first time and that was just taken in becomes the day's. */
  private async nameTaken(day: string, facts: DayFacts): Promise<Outcome<void>> {
    const known = this.store.files(day);
    if (!known.ok) return known;
    for (const name of filesOf(facts)) {
      const hash = this.taken.get(name);
      if (hash === undefined || known.value.some((file) => file.name === name)) continue;
      const named = await this.store.nameFile(day, { name, hash }, this.now());
      if (!named.ok) return named;
    }
    return answered(undefined);
  }

  private async readingOf(
    source: string,
    { file, bytes, work }: { file: string; bytes: number; work: Work | undefined },
  ): Promise<Outcome<FileReading>> {
    const read = await this.bench.table(source, file, work);
    if (read.ok) return answered(fileReading({ ...read.value, table: { ...read.value.table, file } }, bytes));
    if (!isForSoundReader(read.refusal, file)) return read;
    const sound = await this.bench.sound(source, file, work);
    return sound.ok ? answered(soundReading(sound.value, bytes)) : sound;
  }
}

/** Every file that the facts name: logs of entries, and those of the parts. */
function filesOf({ entries, parts }: DayFacts): ReadonlySet<string> {
  const ofParts = parts?.compressorMap === undefined ? [] : [parts.compressorMap];
  return new Set([...entries.flatMap(({ files }) => files), ...ofParts]);
}

function summaryOf({ id, folder }: Pick<StoredDay, 'id' | 'folder'>, facts: DayFacts): DaySummary {
  const { title, date, entries, invented } = facts;
  return { id, title, date, folder, entries: entries.length, invented: invented !== undefined };
}
