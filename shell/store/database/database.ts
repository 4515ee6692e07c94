import { DatabaseSync, type SQLInputValue } from 'node:sqlite';
import { type Compilable, DummyDriver, Kysely, SqliteAdapter, SqliteIntrospector, SqliteQueryCompiler } from 'kysely';
import { z } from 'zod';
import { answered, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import { MIGRATIONS, type Migration } from './migrations.ts';
import type { Tables } from './tables.ts';

/** Marks the file as ours: "KNRL" as four bytes. */
export const APPLICATION_ID = 0x4b4e524c;

/** Builds queries and compiles them; they are executed by a `Database`, one at a time and at once. */
export const query = new Kysely<Tables>({
  dialect: {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (db) => new SqliteIntrospector(db),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  },
});

export interface DatabaseOptions {
  readonly migrations?: readonly Migration[];
  /** How long to wait for another process that is writing [ms]. */
  readonly patience?: number;
}

/** Opens or makes the database file, checks it and brings it to the newest version. */
export function openDatabase(path: string, options: DatabaseOptions = {}): Outcome<Database> {
  let sqlite: DatabaseSync | undefined;
  try {
    const { patience = PATIENCE, migrations = MIGRATIONS } = options;
    sqlite = new DatabaseSync(path, { timeout: patience });
    const refusal = prepare({ sqlite, path, migrations, patience });
    if (!refusal) return answered(new Database(sqlite, path));
    sqlite.close();
    return refused(refusal);
  } catch (error) {
    sqlite?.close();
    return refused(databaseRefusal(error, path));
  }
}

/** @source our default: writes take milliseconds */
const PATIENCE = 5000;
/** Pause before another process is asked again [ms]. @source our default */
const PAUSE = 5;

/**
 * One open database file. A transaction runs from begin to end without giving way to anything else in this process;
 * other processes wait for it, or are refused after their patience.
 */
export class Database {
  private readonly sqlite: DatabaseSync;
  private readonly path: string;

  constructor(sqlite: DatabaseSync, path: string) {
    this.sqlite = sqlite;
    this.path = path;
  }

  /** Rows that a query gives now, each checked against the shape that the query promises. */
  rows<Row>(compilable: Compilable<Row>, shape: z.ZodType<Row>): Row[] {
    const { sql, parameters } = compilable.compile();
    return z.array(shape).parse(this.sqlite.prepare(sql).all(...parameters.map(bound)));
  }

  /** Executes a statement that gives no rows. */
  run(compilable: Compilable<unknown>): void {
    const { sql, parameters } = compilable.compile();
    this.sqlite.prepare(sql).run(...parameters.map(bound));
  }

  /** Reads; refused when the file cannot be read. */
  read<Value>(ask: () => Outcome<Value>): Outcome<Value> {
    try {
      return ask();
    } catch (error) {
      return refused(databaseRefusal(error, this.path));
    }
  }

  /** Everything that `change` does, or nothing: it is on disk when this returns, and undone when it refuses or throws. */
  write<Value>(change: () => Outcome<Value>): Outcome<Value> {
    try {
      this.sqlite.exec('begin immediate');
      const outcome = change();
      this.sqlite.exec(outcome.ok ? 'commit' : 'rollback');
      return outcome;
    } catch (error) {
      if (this.sqlite.isTransaction) this.sqlite.exec('rollback');
      return refused(databaseRefusal(error, this.path));
    }
  }

  close(): void {
    if (this.sqlite.isOpen) this.sqlite.close();
  }
}

function bound(value: unknown): SQLInputValue {
  if (value === null || typeof value === 'string' || typeof value === 'number') return value;
  throw new TypeError(`a ${typeof value} cannot be stored`);
}

interface Preparing {
  readonly sqlite: DatabaseSync;
  readonly path: string;
  readonly migrations: readonly Migration[];
  readonly patience: number;
}

function prepare({ sqlite, path, migrations, patience }: Preparing): Refusal | undefined {
  const newest = migrations.at(-1)?.version ?? 0;
  const { version, application, isNew } = marks(sqlite);
  if (!isNew && application !== APPLICATION_ID) return foreign(path, application);
  if (version > newest) return later(path, version, newest);
  if (!isNew) {
    const check = String(Object.values(sqlite.prepare('pragma quick_check(1)').get() ?? {})[0]);
    if (check !== 'ok') return damaged(path, check);
  }
  writeAhead(sqlite, patience);
  sqlite.exec('pragma synchronous = full; pragma foreign_keys = on; pragma trusted_schema = off');
  migrate(sqlite, migrations);
  return undefined;
}

/** What tells whose file it is, from one moment: another process may be making it just now. */
function marks(sqlite: DatabaseSync): {
  readonly version: number;
  readonly application: number;
  readonly isNew: boolean;
} {
  sqlite.exec('begin');
  const version = pragma(sqlite, 'user_version');
  const application = pragma(sqlite, 'application_id');
  const isNew = version === 0 && application === 0 && pragma(sqlite, 'schema_version') === 0;
  sqlite.exec('commit');
  return { version, application, isNew };
}

/** Two that change the journal of a new file at once do not wait for each other as writers do: one is turned away, and asks again. */
function writeAhead(sqlite: DatabaseSync, patience: number): void {
  const end = performance.now() + patience;
  for (;;) {
    try {
      sqlite.exec('pragma journal_mode = wal');
      return;
    } catch (error) {
      if (!isBusy(error) || performance.now() > end) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, PAUSE);
    }
  }
}

function isBusy(error: unknown): boolean {
  return error instanceof Error && 'errcode' in error && Number(error.errcode) % 256 === 5;
}

/** The version is read again inside the transaction: another process may have been faster. */
function migrate(sqlite: DatabaseSync, migrations: readonly Migration[]): void {
  if (pragma(sqlite, 'user_version') >= (migrations.at(-1)?.version ?? 0)) return;
  sqlite.exec('begin immediate');
  const version = pragma(sqlite, 'user_version');
  for (const migration of migrations.filter((step) => step.version > version)) {
    for (const statement of migration.statements) sqlite.exec(statement);
    sqlite.exec(`pragma application_id = ${APPLICATION_ID}; pragma user_version = ${migration.version}`);
  }
  sqlite.exec('commit');
}

function pragma(sqlite: DatabaseSync, name: string): number {
  return Number(Object.values(sqlite.prepare(`pragma ${name}`).get() ?? {})[0]);
}

/** A refusal for what SQLite reports about the file; a wrong statement is a bug and is thrown on. */
function databaseRefusal(error: unknown, path: string): Refusal {
  const code = error instanceof Error ? new Map<string, unknown>(Object.entries(error)).get('errcode') : undefined;
  if (!(error instanceof Error) || typeof code !== 'number') throw error;
  const problem = PROBLEMS[code & 0xff];
  if (!problem) throw error;
  return {
    kind: problem.kind,
    message: `${problem.message} (${error.message}); nothing was changed`,
    place: { file: path },
    numbers: { code },
  };
}

/** @source result codes of SQLite, https://www.sqlite.org/rescode.html */
const PROBLEMS: Readonly<Record<number, { readonly kind: string; readonly message: string }>> = {
  3: { kind: 'disk', message: 'the store cannot be used: no permission' },
  5: { kind: 'store-busy', message: 'the store is in use by another process that did not finish in time' },
  6: { kind: 'store-busy', message: 'the store is in use by another process that did not finish in time' },
  8: { kind: 'disk', message: 'the store is read-only' },
  10: { kind: 'disk', message: 'the disk reports an error' },
  11: { kind: 'damaged-store', message: 'invalid store: the database file is damaged' },
  13: { kind: 'disk', message: 'the disk is full' },
  14: { kind: 'disk', message: 'the store cannot be opened' },
  26: { kind: 'damaged-store', message: 'invalid store: the file is not a database, or its beginning is damaged' },
};

function foreign(path: string, application: number): Refusal {
  return {
    kind: 'foreign-store',
    message: `invalid store: the database belongs to another program (mark ${application}, expected ${APPLICATION_ID})`,
    place: { file: path },
    numbers: { got: application, expected: APPLICATION_ID },
  };
}

function later(path: string, version: number, newest: number): Refusal {
  return {
    kind: 'later-version',
    message: `store version out of validity: ${version}, valid 1–${newest}; it was written by a later version`,
    place: { file: path },
    numbers: { value: version, limit: newest },
  };
}

function damaged(path: string, check: string): Refusal {
  return {
    kind: 'damaged-store',
    message: `invalid store: the database file is damaged (${check}); raw bytes are not affected, bring the file back from a copy`,
    place: { file: path },
    numbers: { check },
  };
}
