import { z } from 'zod';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { type Database, query } from './database/database.ts';
import type { DayFile, StoredDay } from './interface.ts';

const DAY_ROW = z.object({
  day: z.string(),
  at: z.string(),
  folder: z.string().nullable(),
  sequence: z.number().nullable(),
});
const NAME_ROW = z.object({ day: z.string() });
const FILE_ROW = z.object({ name: z.string(), hash: z.string(), bytes: z.number() });

/** Rows of days, their folders and their files. Every function runs inside a read or a write of the database. */
export function listDays(database: Database): StoredDay[] {
  const days = database.rows(
    query
      .selectFrom('days')
      .select(['days.day', 'days.at'])
      .select((of) => [
        of
          .selectFrom('folders')
          .select('folder')
          .whereRef('folders.day', '=', 'days.day')
          .orderBy('folders.sequence', 'desc')
          .limit(1)
          .as('folder'),
        of
          .selectFrom('facts')
          .select((part) => part.fn.max('facts.sequence').as('last'))
          .whereRef('facts.day', '=', 'days.day')
          .as('sequence'),
      ])
      .orderBy('days.at')
      .orderBy('days.day'),
    DAY_ROW,
  );
  return days.map(({ day, at, folder, sequence }) => ({
    id: day,
    at,
    folder: folder ?? undefined,
    sequence: sequence ?? 0,
  }));
}

export function dayOf(database: Database, day: string): Outcome<StoredDay> {
  const found = listDays(database).find(({ id }) => id === day);
  if (found) return answered(found);
  return refused({ kind: 'unknown-day', message: `unknown day: ${JSON.stringify(day)}`, numbers: { value: day } });
}

export function insertDay(database: Database, day: { readonly id: string; readonly at: string }): Outcome<string> {
  if (day.id.trim() === '')
    return refused({ kind: 'invalid-day', message: 'invalid day: "", expected a name', numbers: { value: day.id } });
  const same = database.rows(query.selectFrom('days').select('day').where('day', '=', day.id), NAME_ROW);
  if (same.length > 0)
    return refused({
      kind: 'repeated-day',
      message: `invalid day: ${JSON.stringify(day.id)} is there already, expected a new name`,
      numbers: { value: day.id },
    });
  database.run(query.insertInto('days').values({ day: day.id, at: day.at }));
  return answered(day.id);
}

export function insertFolder(database: Database, day: string, link: { folder: string | undefined; at: string }): void {
  database.run(query.insertInto('folders').values({ day, folder: link.folder ?? null, at: link.at }));
}

/** The files of a day by name: for each name the bytes it stands for now. */
export function listFiles(database: Database, day: string): DayFile[] {
  const rows = database.rows(
    query.selectFrom('day_files').select(['name', 'hash', 'bytes']).where('day', '=', day).orderBy('sequence'),
    FILE_ROW,
  );
  return [...new Map(rows.map((row) => [row.name, row])).values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

export function insertFile(database: Database, day: string, file: DayFile & { readonly at: string }): void {
  const now = listFiles(database, day).find(({ name }) => name === file.name);
  if (now?.hash === file.hash) return;
  const { name, hash, bytes, at } = file;
  database.run(query.insertInto('day_files').values({ day, name, hash, bytes, at }));
}
