import { z } from 'zod';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { type Database, query } from './database/database.ts';
import type { Change, FactsState, HistoryLine } from './interface.ts';
import { factsOf, factsRecord, type StoredRecord } from './record.ts';

const LINE_ROW = z.object({ sequence: z.number(), at: z.string(), why: z.string(), restores: z.number().nullable() });
const RECORD_ROW = z.object({ record: z.string(), digest: z.string() });

/** The history of a day's facts. Every function runs inside a read or a write of the database. */
export function listHistory(database: Database, day: string): HistoryLine[] {
  return database
    .rows(
      query
        .selectFrom('facts')
        .select(['sequence', 'at', 'why', 'restores'])
        .where('day', '=', day)
        .orderBy('sequence'),
      LINE_ROW,
    )
    .map((line) => ({ ...line, restores: line.restores ?? undefined }));
}

export function currentFacts(database: Database, day: string): Outcome<FactsState> {
  const last = listHistory(database, day).at(-1);
  return last ? factsAt(database, day, last.sequence) : refused(unknownState(day, 0));
}

export function factsAt(database: Database, day: string, sequence: number): Outcome<FactsState> {
  const row = recordAt(database, day, sequence);
  if (!row) return refused(unknownState(day, sequence));
  const facts = factsOf(row, `the facts of ${JSON.stringify(day)}, state ${sequence}`);
  return facts.ok ? answered({ sequence, facts: facts.value }) : facts;
}

/** Appends a state; refused when `change.after` names a state that is no longer the last. */
export function appendFacts(
  database: Database,
  day: string,
  { facts, change }: { readonly facts: DayFacts; readonly change: Change },
): Outcome<FactsState> {
  const moved = movedOn(database, day, change);
  if (moved) return moved;
  return append(database, day, { ...factsRecord(facts), at: change.at, why: change.why, restores: null });
}

/** Appends what was there before the current state was made, however many undos came before. */
export function appendUndo(database: Database, day: string, change: Change): Outcome<FactsState> {
  const moved = movedOn(database, day, change);
  if (moved) return moved;
  const former = formerState(listHistory(database, day));
  const row = former === undefined ? undefined : recordAt(database, day, former);
  if (former === undefined || !row)
    return refused({ kind: 'nothing-to-undo', message: 'nothing to undo: these are the first facts of the day' });
  return append(database, day, { ...row, at: change.at, why: change.why, restores: former });
}

/** Each line stands for the state it restores, or for itself; a line that is no undo was made upon the line before it. */
export function formerState(history: readonly HistoryLine[]): number | undefined {
  const meant = (line: HistoryLine | undefined): number | undefined => line?.restores ?? line?.sequence;
  const current = meant(history.at(-1));
  const made = history.findIndex(({ sequence }) => sequence === current);
  return made > 0 ? meant(history[made - 1]) : undefined;
}

type NewState = StoredRecord & { readonly at: string; readonly why: string; readonly restores: number | null };

function append(database: Database, day: string, state: NewState): Outcome<FactsState> {
  const sequence = (listHistory(database, day).at(-1)?.sequence ?? 0) + 1;
  database.run(query.insertInto('facts').values({ day, sequence, ...state }));
  return factsAt(database, day, sequence);
}

function recordAt(database: Database, day: string, sequence: number): StoredRecord | undefined {
  const [row] = database.rows(
    query.selectFrom('facts').select(['record', 'digest']).where('day', '=', day).where('sequence', '=', sequence),
    RECORD_ROW,
  );
  return row;
}

function movedOn(database: Database, day: string, { after }: Change): Outcome<FactsState> | undefined {
  const last = listHistory(database, day).at(-1)?.sequence ?? 0;
  if (after === undefined || after === last) return undefined;
  return refused({
    kind: 'changed-elsewhere',
    message: `the facts were changed meanwhile: state ${last}, expected ${after}; nothing was changed`,
    numbers: { got: last, expected: after },
  });
}

function unknownState(day: string, sequence: number) {
  const what = sequence === 0 ? 'unknown day' : `unknown state ${sequence} of day`;
  return { kind: 'unknown-day', message: `${what}: ${JSON.stringify(day)}`, numbers: { value: day, sequence } };
}
