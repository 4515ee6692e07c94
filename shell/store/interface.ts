import type { Outcome } from '../../core/quantities/index.ts';
import type { Mapping } from '../../day/channels/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';

/** When a change was made (ISO text from the caller's clock) and why. */
export interface Change {
  readonly at: string;
  readonly why: string;
  /** The state that the person saw: the change is refused when the facts have moved on since. */
  readonly after?: number;
}

/** A day in the list of days. */
export interface StoredDay {
  readonly id: string;
  /** When it was taken in. */
  readonly at: string;
  readonly folder: string | undefined;
  /** Number of the current state of its facts. */
  readonly sequence: number;
}

/** A state of the facts of a day. */
export interface FactsState {
  readonly sequence: number;
  readonly facts: DayFacts;
}

/** One line of the history of a day's facts. `restores`: an undo brought back the facts of that state. */
export interface HistoryLine {
  readonly sequence: number;
  readonly at: string;
  readonly why: string;
  readonly restores: number | undefined;
}

/** A log of a day: name inside the day, SHA-256 and size of its bytes. */
export interface DayFile {
  readonly name: string;
  readonly hash: string;
  readonly bytes: number;
}

/** Raw bytes that were taken in, with the name they came under last. */
export interface Source extends DayFile {
  readonly at: string;
}

export interface NewDay {
  readonly id: string;
  readonly facts: DayFacts;
  readonly folder?: string;
  /** Logs whose bytes are kept already. */
  readonly files?: readonly Pick<DayFile, 'name' | 'hash'>[];
  readonly at: string;
  readonly why: string;
}

/** What a derived result is made of: the same parts give the same key. */
export interface CacheParts {
  /** SHA-256 of every log that took part, in order. */
  readonly raw: readonly string[];
  /** `factsDigest` of the facts. */
  readonly facts: string;
  /** Name and version of the method; a change of the method changes it. */
  readonly method: string;
}

/** Results that can be computed again. Nothing here is worth keeping; a damaged or absent one is a miss. */
export interface Cache {
  get(parts: CacheParts): Promise<Uint8Array | undefined>;
  /** Never fails: what cannot be kept is not kept. */
  put(parts: CacheParts, bytes: Uint8Array): Promise<void>;
  getJson(parts: CacheParts): Promise<unknown>;
  putJson(parts: CacheParts, value: unknown): Promise<void>;
  /** Removes everything. */
  drop(): Promise<void>;
  /** Bytes in use. */
  size(): Promise<number>;
}

/**
 * The memory of Knurl: raw bytes, facts with history, links, mappings, and a cache that may vanish at any time.
 * A promise of a change resolves only when the change is on disk. Questions about facts are answered at once.
 */
export interface Store {
  readonly directory: string;

  /** Keeps raw bytes and the name they came under; gives their SHA-256. The same bytes are kept once. */
  keepRaw(bytes: Uint8Array, origin: { readonly name: string; readonly at: string }): Promise<Outcome<string>>;
  /** Verified bytes; a file that no longer gives its hash is refused. */
  raw(hash: string): Promise<Outcome<Uint8Array>>;
  hasRaw(hash: string): Promise<boolean>;
  /** Reads and verifies every raw file: how many are sound, a finding for each that is not. */
  verifyRaw(): Promise<Outcome<number>>;
  source(hash: string): Outcome<Source>;

  addDay(day: NewDay): Promise<Outcome<StoredDay>>;
  /** In the order in which they were taken in. */
  days(): Outcome<readonly StoredDay[]>;
  /** Links a day to its folder; `undefined` unlinks. */
  linkFolder(day: string, folder: string | undefined, at: string): Promise<Outcome<StoredDay>>;

  facts(day: string): Outcome<FactsState>;
  /** A former state. */
  factsAt(day: string, sequence: number): Outcome<FactsState>;
  history(day: string): Outcome<readonly HistoryLine[]>;
  setFacts(day: string, facts: DayFacts, change: Change): Promise<Outcome<FactsState>>;
  /** Appends the state before the current one; called again, the one before that. */
  undo(day: string, change: Change): Promise<Outcome<FactsState>>;

  files(day: string): Outcome<readonly DayFile[]>;
  /** From now on the name stands for these bytes, which must have been kept. */
  nameFile(day: string, file: Pick<DayFile, 'name' | 'hash'>, at: string): Promise<Outcome<DayFile>>;

  /** Remembers the decided columns of a set of columns; former ones stay. */
  rememberMapping(mapping: Mapping, at: string): Promise<Outcome<Mapping>>;
  /** What was decided last for the set of columns, or undefined. */
  mapping(columnSet: string): Outcome<Mapping | undefined>;
  mappingHistory(columnSet: string): Outcome<readonly { readonly at: string; readonly mapping: Mapping }[]>;

  readonly cache: Cache;
  /** Removes the cache; everything in it can be computed again. */
  dropCache(): Promise<void>;
  close(): void;
}
