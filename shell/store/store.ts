import { realpath } from 'node:fs/promises';
import { join } from 'node:path';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { Mapping } from '../../day/channels/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { type CacheOptions, openCache } from './cache.ts';
import { type Database, type DatabaseOptions, openDatabase } from './database/database.ts';
import { checkedFacts } from './day-folder/write.ts';
import { dayOf, insertDay, insertFile, insertFolder, listDays, listFiles } from './days.ts';
import { diskRefusal, makeFolder, syncFolder } from './durable.ts';
import { MAPPING } from './facts-schema.ts';
import { appendFacts, appendUndo, currentFacts, factsAt, listHistory } from './history.ts';
import type { Cache, Change, DayFile, FactsState, HistoryLine, NewDay, Source, Store, StoredDay } from './interface.ts';
import { openRawFiles, type RawFiles } from './raw.ts';
import { insertMapping, insertSource, listMappings, type RememberedMapping, sourceOf } from './sources.ts';

export interface StoreOptions extends DatabaseOptions {
  readonly cache?: CacheOptions;
}

/** Name of the database file inside the store's folder. */
export const DATABASE_FILE = 'facts.sqlite';

/** Opens the store in a folder, which is made when it is not there. Several processes may have one store open. */
export async function openStore(directory: string, options: StoreOptions = {}): Promise<Outcome<Store>> {
  let raw: RawFiles;
  let folder: string;
  try {
    await makeFolder(directory);
    folder = await realpath(directory);
    raw = await openRawFiles(folder);
  } catch (error) {
    return refused(diskRefusal(error, 'the store cannot be opened', directory));
  }
  const database = openDatabase(join(folder, DATABASE_FILE), options);
  if (!database.ok) return database;
  await syncFolder(folder);
  return answered(new FolderStore(folder, { database: database.value, raw, cache: openCache(folder, options.cache) }));
}

interface Parts {
  readonly database: Database;
  readonly raw: RawFiles;
  readonly cache: Cache;
}

class FolderStore implements Store {
  readonly directory: string;
  readonly cache: Cache;
  private readonly database: Database;
  private readonly rawFiles: RawFiles;

  constructor(directory: string, { database, raw, cache }: Parts) {
    this.directory = directory;
    this.database = database;
    this.rawFiles = raw;
    this.cache = cache;
  }

  async keepRaw(bytes: Uint8Array, origin: { readonly name: string; readonly at: string }): Promise<Outcome<string>> {
    const size = bytes.length;
    const kept = await this.rawFiles.keep(bytes);
    if (!kept.ok) return kept;
    return this.database.write(() => {
      insertSource(this.database, { hash: kept.value, bytes: size, ...origin });
      return kept;
    });
  }

  raw(hash: string): Promise<Outcome<Uint8Array>> {
    return this.rawFiles.read(hash);
  }

  hasRaw(hash: string): Promise<boolean> {
    return this.rawFiles.has(hash);
  }

  verifyRaw(): Promise<Outcome<number>> {
    return this.rawFiles.verify();
  }

  source(hash: string): Outcome<Source> {
    return this.database.read(() => sourceOf(this.database, hash));
  }

  async addDay(day: NewDay): Promise<Outcome<StoredDay>> {
    const facts = checkedFacts(day.facts);
    if (!facts.ok) return facts;
    return this.database.write(() => {
      const inserted = insertDay(this.database, day);
      if (!inserted.ok) return inserted;
      if (day.folder !== undefined) insertFolder(this.database, day.id, { folder: day.folder, at: day.at });
      for (const file of day.files ?? []) {
        const named = this.named(day.id, file, day.at);
        if (!named.ok) return named;
      }
      const state = appendFacts(this.database, day.id, { facts: facts.value, change: { at: day.at, why: day.why } });
      return state.ok ? dayOf(this.database, day.id) : state;
    });
  }

  days(): Outcome<readonly StoredDay[]> {
    return this.database.read(() => answered(listDays(this.database)));
  }

  async linkFolder(day: string, folder: string | undefined, at: string): Promise<Outcome<StoredDay>> {
    return this.database.write(() => {
      const known = dayOf(this.database, day);
      if (!known.ok) return known;
      insertFolder(this.database, day, { folder, at });
      return dayOf(this.database, day);
    });
  }

  facts(day: string): Outcome<FactsState> {
    return this.database.read(() => currentFacts(this.database, day));
  }

  factsAt(day: string, sequence: number): Outcome<FactsState> {
    return this.database.read(() => factsAt(this.database, day, sequence));
  }

  history(day: string): Outcome<readonly HistoryLine[]> {
    return this.ofDay(day, () => answered(listHistory(this.database, day)));
  }

  async setFacts(day: string, facts: DayFacts, change: Change): Promise<Outcome<FactsState>> {
    const checked = checkedFacts(facts);
    if (!checked.ok) return checked;
    return this.database.write(() => {
      const known = dayOf(this.database, day);
      return known.ok ? appendFacts(this.database, day, { facts: checked.value, change }) : known;
    });
  }

  async undo(day: string, change: Change): Promise<Outcome<FactsState>> {
    return this.database.write(() => {
      const known = dayOf(this.database, day);
      return known.ok ? appendUndo(this.database, day, change) : known;
    });
  }

  files(day: string): Outcome<readonly DayFile[]> {
    return this.ofDay(day, () => answered(listFiles(this.database, day)));
  }

  async nameFile(day: string, file: Pick<DayFile, 'name' | 'hash'>, at: string): Promise<Outcome<DayFile>> {
    return this.database.write(() => {
      const known = dayOf(this.database, day);
      return known.ok ? this.named(day, file, at) : known;
    });
  }

  async rememberMapping(mapping: Mapping, at: string): Promise<Outcome<Mapping>> {
    const checked = MAPPING.safeParse(mapping);
    if (!checked.success)
      return refused({ kind: 'invalid-mapping', message: `invalid mapping: ${checked.error.message}` });
    return this.database.write(() => {
      insertMapping(this.database, mapping, at);
      return answered(mapping);
    });
  }

  mapping(columnSet: string): Outcome<Mapping | undefined> {
    const history = this.mappingHistory(columnSet);
    return history.ok ? answered(history.value.at(-1)?.mapping) : history;
  }

  mappingHistory(columnSet: string): Outcome<readonly RememberedMapping[]> {
    return this.database.read(() => listMappings(this.database, columnSet));
  }

  dropCache(): Promise<void> {
    return this.cache.drop();
  }

  close(): void {
    this.database.close();
  }

  private ofDay<Value>(day: string, ask: () => Outcome<Value>): Outcome<Value> {
    return this.database.read(() => {
      const known = dayOf(this.database, day);
      return known.ok ? ask() : known;
    });
  }

  /** Only bytes that were kept get a name. */
  private named(day: string, file: Pick<DayFile, 'name' | 'hash'>, at: string): Outcome<DayFile> {
    const source = sourceOf(this.database, file.hash);
    if (!source.ok) return source;
    const named = { name: file.name, hash: file.hash, bytes: source.value.bytes };
    insertFile(this.database, day, { ...named, at });
    return answered(named);
  }
}
