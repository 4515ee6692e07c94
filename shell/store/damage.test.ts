import { chmod, copyFile, cp, mkdir, readdir, readFile, rename, truncate, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { sql } from 'kysely';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { Database, openDatabase, query } from './database/database.ts';
import { MIGRATIONS } from './database/migrations.ts';
import { sha256 } from './raw.ts';
import { DATABASE_FILE, openStore } from './store.ts';
import { titled } from './testing/facts-sample.ts';
import { answerOf, bytesOf, openedStore, refusalOf, temporaryFolder } from './testing/outcomes.ts';
import { startWriter } from './testing/processes.ts';

const AT = '2031-05-14T10:00:00Z';
const CHANGE = { at: AT, why: 'test' };
const ORIGIN = { name: 'a.csv', at: AT };

/** A closed store with one day, forty states and one log. */
async function closedStore() {
  const folder = await temporaryFolder();
  const store = await openedStore(folder);
  const hash = answerOf(await store.keepRaw(bytesOf('precious'), ORIGIN));
  answerOf(await store.addDay({ id: 'd', facts: titled('0'), files: [{ name: 'a.csv', hash }], ...CHANGE }));
  for (let index = 1; index < 40; index++) answerOf(await store.setFacts('d', titled(`${index}`), CHANGE));
  store.close();
  return { folder, hash, raw: join(folder, 'raw', hash.slice(0, 2), hash), database: join(folder, DATABASE_FILE) };
}

async function flipByte(path: string, offset: number): Promise<void> {
  const bytes = await readFile(path);
  bytes[offset] = (bytes[offset] ?? 0) ^ 0x10;
  await chmod(path, 0o644);
  await writeFile(path, bytes);
}

/** Changes the database behind the store's back. */
function meddle(path: string, sql: string): void {
  const sqlite = new DatabaseSync(path);
  sqlite.exec(sql);
  sqlite.close();
}

describe('damaged raw bytes', () => {
  it('with a flipped byte are refused by their hash, and sound again when the log is taken in again', async () => {
    const { folder, hash, raw } = await closedStore();
    await flipByte(raw, 3);
    const store = await openedStore(folder);
    const refusal = refusalOf(await store.raw(hash));
    expect(refusal).toMatchObject({ kind: 'damaged-raw', place: { file: raw }, numbers: { expected: hash } });
    expect(refusal.message).toContain(hash);
    const verified = await store.verifyRaw();
    expect(verified).toMatchObject({ ok: true, value: 0, findings: [{ kind: 'damaged-raw', weight: 'fault' }] });
    answerOf(await store.keepRaw(bytesOf('precious'), ORIGIN));
    expect(answerOf(await store.raw(hash))).toEqual(bytesOf('precious'));
    expect(await readdir(join(folder, 'damaged'))).toHaveLength(1);
  });

  it.each([0, 4])('cut to %i bytes are refused', async (length) => {
    const { folder, hash, raw } = await closedStore();
    await chmod(raw, 0o644);
    await truncate(raw, length);
    const store = await openedStore(folder);
    expect(refusalOf(await store.raw(hash))).toMatchObject({ kind: 'damaged-raw', numbers: { expected: hash } });
  });

  it('left as a temporary by a writer that is gone are cleared, those of a living one are not', async () => {
    const { folder } = await closedStore();
    const gone = startWriter([folder, 'd', 'x', '0']);
    await gone.ended();
    const part = join(folder, 'raw', 'part');
    await writeFile(join(part, `part-${gone.process.pid}-torn`), 'half a lo');
    await writeFile(join(part, `part-${process.ppid}-busy`), 'half a lo');
    const store = await openedStore(folder);
    expect(await readdir(part)).toEqual([`part-${process.ppid}-busy`]);
    expect(answerOf(await store.verifyRaw())).toBe(1);
  });
});

describe('a damaged database', () => {
  it('is refused when a byte of a page, its beginning or its end is wrong; raw bytes stay', async () => {
    const { folder, raw, database } = await closedStore();
    const sound = await readFile(database);
    const damages: readonly ((path: string) => Promise<void>)[] = [
      (path) => writeFile(path, 'this is not a database, but it is long enough to be looked at'.repeat(20)),
      (path) => flipByte(path, 2),
      (path) => truncate(path, 4096 * 3),
      (path) => truncate(path, 700),
      // The first pages of the tables hold their structure.
      async (path) => writeFile(path, (await readFile(path)).fill(0xa5, 4096, 4096 * 8)),
    ];
    for (const damage of damages) {
      await writeFile(database, sound);
      await damage(database);
      expect(refusalOf(await openStore(folder))).toMatchObject({ kind: 'damaged-store', place: { file: database } });
    }
    await writeFile(database, sound);
    expect(answerOf((await openedStore(folder)).facts('d')).sequence).toBe(40);
    expect(await readFile(raw, 'utf8')).toBe('precious');
  });

  it('with a changed record is refused by day and state; the other states stay readable', async () => {
    const { folder, database } = await closedStore();
    meddle(database, `update facts set record = replace(record, '"title":"19"', '"title":"91"') where sequence = 20`);
    const store = await openedStore(folder);
    const refusal = refusalOf(store.factsAt('d', 20));
    expect(refusal.kind).toBe('damaged-record');
    expect(refusal.message).toContain('the facts of "d", state 20');
    expect(answerOf(store.factsAt('d', 19)).facts.title).toBe('18');
    expect(answerOf(store.facts('d')).facts.title).toBe('39');
  });

  it('with a torn end of its journal keeps every change before the tear', async () => {
    const { folder } = await closedStore();
    const store = await openedStore(folder);
    for (let index = 40; index < 60; index++) answerOf(await store.setFacts('d', titled(`${index}`), CHANGE));
    // A copy while it is open is what a power cut leaves; the end of the journal is cut and then filled with rubbish.
    const torn = await temporaryFolder();
    await copyFile(join(folder, DATABASE_FILE), join(torn, DATABASE_FILE));
    const journal = await readFile(join(folder, `${DATABASE_FILE}-wal`));
    await writeFile(join(torn, `${DATABASE_FILE}-wal`), journal.fill(0x5a, journal.length - 5000));
    const sequence = answerOf((await openedStore(torn)).facts('d')).sequence;
    expect(sequence).toBeGreaterThanOrEqual(40);
    expect(sequence).toBeLessThan(60);
  });

  it('of another program or of a later version is refused and left alone', async () => {
    const foreign = await temporaryFolder();
    meddle(join(foreign, DATABASE_FILE), 'create table theirs (x); insert into theirs values (1)');
    const before = await readFile(join(foreign, DATABASE_FILE));
    expect(refusalOf(await openStore(foreign)).kind).toBe('foreign-store');
    expect(await readFile(join(foreign, DATABASE_FILE))).toEqual(before);
    const { folder, database } = await closedStore();
    meddle(database, 'pragma user_version = 99');
    expect(refusalOf(await openStore(folder))).toMatchObject({
      kind: 'later-version',
      numbers: { value: 99, limit: 1 },
    });
  });

  it('with a record of a later version refuses that record alone', async () => {
    const { folder, database } = await closedStore();
    const record = '{"version":9,"facts":{}}';
    meddle(database, `update facts set record = '${record}', digest = '${sha256(record)}' where sequence = 40`);
    const store = await openedStore(folder);
    expect(refusalOf(store.facts('d'))).toMatchObject({ kind: 'later-version', numbers: { value: 9, limit: 1 } });
    expect(answerOf(await store.undo('d', CHANGE)).facts.title).toBe('38');
  });
});

describe('a sound database', () => {
  it('flushes every change, keeps a journal, and holds rows to the days they name', async () => {
    const database = answerOf(openDatabase(join(await temporaryFolder(), DATABASE_FILE)));
    const setting = (name: string): unknown => {
      const compiled = sql.raw<Record<string, unknown>>(`pragma ${name}`).compile(query);
      return database.rows({ compile: () => compiled }, z.record(z.string(), z.unknown()))[0]?.[name];
    };
    // Values of SQLite: synchronous 2 is full.
    expect(['synchronous', 'journal_mode', 'foreign_keys'].map(setting)).toEqual([2, 'wal', 1]);
    database.close();
  });
});

describe('an old version', () => {
  it('1 stays readable: facts, history, raw bytes, mappings', async () => {
    const folder = await temporaryFolder();
    await cp(`${import.meta.dirname}/fixtures/store-1`, folder, { recursive: true });
    const store = await openedStore(folder);
    expect(answerOf(store.days())).toEqual([
      { id: 'sample', at: '2031-05-14T09:00:00Z', folder: '/days/sample', sequence: 3 },
    ]);
    expect(answerOf(store.facts('sample')).facts).toMatchObject({
      title: 'Sample day',
      ambient: { pressure: { value: 85300 }, temperature: { value: 300.15 } },
    });
    expect(answerOf(store.history('sample')).map(({ why, restores }) => [why, restores])).toEqual([
      ['opened', undefined],
      ['barometer read again', undefined],
      ['wrong line', 1],
    ]);
    expect(answerOf(store.factsAt('sample', 2)).facts.ambient.pressure?.value).toBe(85200);
    const [file] = answerOf(store.files('sample'));
    expect(new TextDecoder().decode(answerOf(await store.raw(file?.hash ?? '')))).toMatch(/^time,speed\n/);
    expect(answerOf(store.mapping(sha256('sample columns')))?.columns[0]?.meaning).toBe('roll-speed');
  });

  it('is brought forward in one piece: a step that fails leaves it as it was', async () => {
    const { database } = await closedStore();
    const step = { version: 2, statements: ['create table more (x integer) strict', 'insert into more values (1)'] };
    const broken = {
      version: 3,
      statements: ['create table half (x integer) strict', 'insert into days values (null, null)'],
    };
    expect(() => openDatabase(database, { migrations: [...MIGRATIONS, step, broken] })).toThrow(/constraint/i);
    expect(versionOf(database)).toBe(1);
    answerOf(openDatabase(database, { migrations: [...MIGRATIONS, step] })).close();
    expect(versionOf(database)).toBe(2);
    expect(refusalOf(openDatabase(database)).kind).toBe('later-version');
  });
});

function versionOf(path: string): number {
  const sqlite = new DatabaseSync(path);
  const version = Number(sqlite.prepare('pragma user_version').get()?.['user_version']);
  sqlite.close();
  return version;
}

describe('a full disk', () => {
  it('refuses raw bytes that do not fit, leaves nothing of them, and goes on with what fits', async () => {
    const { folder } = await closedStore();
    // No file may grow beyond 600 000 bytes: the system's own write error, after part of the bytes were written.
    const writer = startWriter([folder, 'd', 'big', '7', '140000'], `trap '' XFSZ; ulimit -f ${blocks(600_000)}; `);
    await writer.ended();
    expect(await readdir(join(folder, 'raw', 'part'))).toEqual([]);
    const lines = writer.lines();
    expect(lines.filter((line) => line === 'refused disk EFBIG')).toHaveLength(3);
    const kept = lines.filter((line) => line.startsWith('raw ')).map((line) => line.slice(4));
    expect(kept).toHaveLength(4);
    expect(lines.filter((line) => line.startsWith('facts '))).toHaveLength(7);
    const store = await openedStore(folder);
    for (const hash of kept) answerOf(await store.raw(hash));
    expect(await store.verifyRaw()).toMatchObject({ value: kept.length + 1, findings: [] });
  });

  it('refuses facts that do not fit and keeps all former ones', async () => {
    const folder = await temporaryFolder();
    const sqlite = new DatabaseSync(join(folder, DATABASE_FILE));
    answerOf(await openStore(folder)).close();
    sqlite.exec('pragma max_page_count = 40');
    const database = new Database(sqlite, join(folder, DATABASE_FILE));
    const full = database.write(() => {
      sqlite.exec(`insert into sources (hash, name, bytes, at) values ('h', '${'x'.repeat(300_000)}', 1, '')`);
      return { ok: true, value: 1, findings: [] };
    });
    expect(refusalOf(full)).toMatchObject({ kind: 'disk', numbers: { code: 13 } });
    expect(sqlite.isTransaction).toBe(false);
    database.close();
    expect(answerOf((await openedStore(folder)).days())).toEqual([]);
  });

  it('and every other error of the disk is a refusal with its reason', async () => {
    const folder = await temporaryFolder();
    await writeFile(join(folder, 'file'), '');
    expect(refusalOf(await openStore(join(folder, 'file')))).toMatchObject({ kind: 'disk' });
    expect(refusalOf(await openStore(join(folder, 'file', 'store')))).toMatchObject({ numbers: { code: 'ENOTDIR' } });
    await mkdir(join(folder, 'odd', DATABASE_FILE), { recursive: true });
    expect(refusalOf(await openStore(join(folder, 'odd')))).toMatchObject({ kind: 'disk', numbers: { code: 14 } });
    const store = await openedStore(join(folder, 'store'));
    await rename(join(folder, 'store', 'raw'), join(folder, 'away'));
    expect(refusalOf(await store.keepRaw(bytesOf('x'), ORIGIN))).toMatchObject({
      kind: 'disk',
      numbers: { code: 'ENOENT' },
    });
  });
});

/** `ulimit -f` counts blocks of 512 bytes in a POSIX shell. */
function blocks(bytes: number): number {
  return Math.ceil(bytes / 512);
}

describe('a damaged cache', () => {
  it('is a miss: flipped byte, short file, empty file, another version', async () => {
    const folder = await temporaryFolder();
    const { cache } = await openedStore(folder);
    const parts = { raw: [], facts: 'f', method: 'm' };
    const damages: readonly ((path: string) => Promise<void>)[] = [
      (path) => flipByte(path, 45),
      (path) => flipByte(path, 7),
      (path) => flipByte(path, 20),
      (path) => truncate(path, 44),
      (path) => truncate(path, 5),
      (path) => truncate(path, 0),
    ];
    for (const damage of damages) {
      await cache.put(parts, bytesOf('a result'));
      expect(await cache.get(parts)).toEqual(bytesOf('a result'));
      const [group = ''] = await readdir(join(folder, 'cache'));
      const [name = ''] = await readdir(join(folder, 'cache', group));
      await damage(join(folder, 'cache', group, name));
      expect(await cache.get(parts)).toBeUndefined();
      expect(await readdir(join(folder, 'cache', group))).toEqual([]);
    }
  });

  it('does not mind times of use that make no sense', async () => {
    const folder = await temporaryFolder();
    const { cache } = await openedStore(folder, { cache: { limit: 500 } });
    await cache.put({ raw: [], facts: 'f', method: 'a' }, new Uint8Array(300));
    const [group = ''] = await readdir(join(folder, 'cache'));
    const [name = ''] = await readdir(join(folder, 'cache', group));
    await utimes(join(folder, 'cache', group, name), 9e9, 9e9);
    await cache.put({ raw: [], facts: 'f', method: 'b' }, new Uint8Array(300));
    expect(await cache.size()).toBeLessThanOrEqual(500);
  });
});
