import { randomUUID } from 'node:crypto';
import { basename } from 'node:path';
import { answered, type Outcome } from '../../core/quantities/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { type DayFile, openStore, type Store, writeDayFolder } from '../store/index.ts';
import { type Bench, bench, type DayQuestion } from './bench.ts';
import type { DaySummary, Desk, FileReading } from './desk.ts';
import { fileReading, unknownEntry } from './reading.ts';
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
  return store.ok ? answered(deskOn(store.value, bench(store.value), now)) : store;
}

function deskOn(store: Store, work: Bench, now: () => string): Desk {
  const question = (day: string): Outcome<DayQuestion> => {
    const facts = store.facts(day);
    const files = facts.ok ? store.files(day) : facts;
    if (!facts.ok) return facts;
    return files.ok ? answered({ facts: facts.value.facts, files: files.value }) : files;
  };
  const summary = (id: string): Outcome<DaySummary> => {
    const facts = store.facts(id);
    if (!facts.ok) return facts;
    const days = store.days();
    const stored = days.ok ? days.value.find((day) => day.id === id) : undefined;
    return answered(summaryOf(id, facts.value.facts, stored?.folder));
  };
  /** Logs taken in and not yet named by an entry: name → hash. */
  const taken = new Map<string, string>();
  /** A log that an entry names for the first time and that was just taken in becomes the day's. */
  const nameTaken = async (day: string, facts: DayFacts): Promise<Outcome<void>> => {
    const known = store.files(day);
    if (!known.ok) return known;
    for (const name of new Set(facts.entries.flatMap(({ files }) => files))) {
      const hash = taken.get(name);
      if (hash === undefined || known.value.some((file) => file.name === name)) continue;
      const named = await store.nameFile(day, { name, hash }, now());
      if (!named.ok) return named;
    }
    return answered(undefined);
  };
  const desk: Desk = {
    days() {
      const days = store.days();
      return days.ok ? days.value.flatMap(({ id }) => valueOf(summary(id))) : [];
    },
    async openFolder(path) {
      const taken = await takeFolder(store, path, now);
      return taken.ok ? summary(taken.value) : taken;
    },
    async newDay(facts) {
      const id = randomUUID();
      const added = await store.addDay({ id, facts, at: now(), why: 'new day' });
      return added.ok ? answered(summaryOf(id, facts, undefined)) : added;
    },
    facts(day) {
      const state = store.facts(day);
      return state.ok ? answered(state.value.facts) : state;
    },
    files: (day) => store.files(day),
    async setFacts(day, facts, why) {
      const named = await nameTaken(day, facts);
      if (!named.ok) return named;
      const state = await store.setFacts(day, facts, { at: now(), why });
      return state.ok ? answered(state.value.facts) : state;
    },
    async undo(day) {
      const state = await store.undo(day, { at: now(), why: 'undo' });
      return state.ok ? answered(state.value.facts) : state;
    },
    async take(file, bytes, options) {
      const kept = await store.keepRaw(bytes, { name: basename(file), at: now() });
      if (kept.ok) taken.set(basename(file), kept.value);
      return kept.ok ? readingOf(kept.value, { file: basename(file), bytes: bytes.length, options }) : kept;
    },
    async reading(source) {
      const origin = store.source(source);
      return origin.ok
        ? readingOf(source, { file: origin.value.name, bytes: origin.value.bytes, options: undefined })
        : origin;
    },
    async decide(mapping) {
      const kept = await store.rememberMapping(mapping, now());
      if (kept.ok) work.forget(mapping.columnSet);
      return kept.ok ? answered(undefined) : kept;
    },
    async report(day, options) {
      const asked = question(day);
      return asked.ok ? work.report(asked.value, options) : asked;
    },
    async entry(day, id, options) {
      const report = await desk.report(day, options);
      if (!report.ok) return report;
      const entry = report.value.entries.find(({ facts }) => facts.id === id);
      return entry ? answered(entry) : unknownEntry(id);
    },
    async record(day, id) {
      const asked = question(day);
      const opened = asked.ok ? await work.opened(asked.value, id) : asked;
      return opened.ok ? answered(opened.value.joined.record) : opened;
    },
    async logs(day, id) {
      const asked = question(day);
      const opened = asked.ok ? await work.opened(asked.value, id) : asked;
      return opened.ok ? answered(opened.value.joined.logs) : opened;
    },
    watch: (day, seen) => watchFolder({ store, day, now }, seen),
    async exportFolder(day, path) {
      const asked = question(day);
      return asked.ok ? writeDayFolder(path, asked.value.facts, await rawFiles(store, asked.value.files)) : asked;
    },
    close: () => store.close(),
  };

  async function readingOf(
    source: string,
    { file, bytes, options }: { file: string; bytes: number; options: Parameters<Desk['take']>[2] },
  ): Promise<Outcome<FileReading>> {
    const read = await work.table(source, file, options);
    return read.ok ? answered(fileReading(read.value, bytes)) : read;
  }
  return desk;
}

function summaryOf(id: string, facts: DayFacts, folder: string | undefined): DaySummary {
  return {
    id,
    title: facts.title,
    date: facts.date,
    folder,
    entries: facts.entries.length,
    invented: facts.invented !== undefined,
  };
}

function valueOf<Value>(outcome: Outcome<Value>): readonly Value[] {
  return outcome.ok ? [outcome.value] : [];
}

async function rawFiles(store: Store, files: readonly DayFile[]): Promise<{ name: string; bytes: Uint8Array }[]> {
  const found: { name: string; bytes: Uint8Array }[] = [];
  for (const { name, hash } of files) {
    const bytes = await store.raw(hash);
    if (bytes.ok) found.push({ name, bytes: bytes.value });
  }
  return found;
}
