import { z } from 'zod';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { Mapping } from '../../day/channels/index.ts';
import { type Database, query } from './database/database.ts';
import type { Source } from './interface.ts';
import { mappingOf, mappingRecord } from './record.ts';

const SOURCE_ROW = z.object({ hash: z.string(), name: z.string(), bytes: z.number(), at: z.string() });
const MAPPING_ROW = z.object({ at: z.string(), record: z.string(), digest: z.string() });

/** What raw bytes came under last. */
export function sourceOf(database: Database, hash: string): Outcome<Source> {
  const [source] = database.rows(
    query
      .selectFrom('sources')
      .select(['hash', 'name', 'bytes', 'at'])
      .where('hash', '=', hash)
      .orderBy('sequence', 'desc')
      .limit(1),
    SOURCE_ROW,
  );
  if (source) return answered(source);
  return refused({ kind: 'unknown-raw', message: `unknown raw bytes: ${hash}`, numbers: { value: hash } });
}

export function insertSource(database: Database, source: Source): void {
  const last = sourceOf(database, source.hash);
  if (!last.ok || last.value.name !== source.name) database.run(query.insertInto('sources').values(source));
}

export interface RememberedMapping {
  readonly at: string;
  readonly mapping: Mapping;
}

/** Every decision on a set of columns, first to last. */
export function listMappings(database: Database, columnSet: string): Outcome<RememberedMapping[]> {
  const rows = database.rows(
    query
      .selectFrom('mappings')
      .select(['at', 'record', 'digest'])
      .where('column_set', '=', columnSet)
      .orderBy('sequence'),
    MAPPING_ROW,
  );
  const found: RememberedMapping[] = [];
  for (const { at, ...stored } of rows) {
    const mapping = mappingOf(stored, `the mapping of ${columnSet}`);
    if (!mapping.ok) return mapping;
    found.push({ at, mapping: mapping.value });
  }
  return answered(found);
}

export function insertMapping(database: Database, mapping: Mapping, at: string): void {
  database.run(query.insertInto('mappings').values({ column_set: mapping.columnSet, at, ...mappingRecord(mapping) }));
}
