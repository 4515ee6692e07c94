import type { Generated } from 'kysely';

/** Rows as they are stored; see `docs/formats/store.md`. Times are texts as the caller gave them. */
export interface Tables {
  readonly days: DaysTable;
  readonly folders: FoldersTable;
  readonly facts: FactsTable;
  readonly day_files: DayFilesTable;
  readonly sources: SourcesTable;
  readonly mappings: MappingsTable;
}

export interface DaysTable {
  readonly day: string;
  readonly at: string;
}

/** Links of a day to its folder; the last one counts, an empty one unlinks. */
export interface FoldersTable {
  readonly sequence: Generated<number>;
  readonly day: string;
  readonly folder: string | null;
  readonly at: string;
}

/** Every state of the facts of a day, in order; the last one counts. */
export interface FactsTable {
  readonly day: string;
  /** 1, 2, 3 … within the day. */
  readonly sequence: number;
  readonly at: string;
  readonly why: string;
  /** Set by an undo: the sequence whose facts these are. */
  readonly restores: number | null;
  /** JSON, see `record.ts`. */
  readonly record: string;
  /** SHA-256 of `record`. */
  readonly digest: string;
}

/** Which bytes a file name of a day stands for; the last row of a name counts. */
export interface DayFilesTable {
  readonly sequence: Generated<number>;
  readonly day: string;
  readonly name: string;
  readonly hash: string;
  readonly bytes: number;
  readonly at: string;
}

/** Under which name raw bytes came in. */
export interface SourcesTable {
  readonly sequence: Generated<number>;
  readonly hash: string;
  readonly name: string;
  readonly bytes: number;
  readonly at: string;
}

/** Decided columns of a set of columns; the last row of a set counts. */
export interface MappingsTable {
  readonly sequence: Generated<number>;
  readonly column_set: string;
  readonly at: string;
  readonly record: string;
  readonly digest: string;
}
