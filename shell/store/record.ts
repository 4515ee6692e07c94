import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { Mapping } from '../../day/channels/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { FACTS, MAPPING } from './facts-schema.ts';
import { sha256 } from './raw.ts';

/** Version that new records bear. A change of the facts that old records do not fit raises it and adds an upgrade. */
export const RECORD_VERSION = 1;

/** A record as it is stored: JSON of `{ version, facts }` or `{ version, mapping }`, and the SHA-256 of that text. */
export interface StoredRecord {
  readonly record: string;
  readonly digest: string;
}

export function factsRecord(facts: DayFacts): StoredRecord {
  return sealed({ version: RECORD_VERSION, facts });
}

export function mappingRecord(mapping: Mapping): StoredRecord {
  return sealed({ version: RECORD_VERSION, mapping });
}

/** The facts of a record; refused when it was damaged, is of a later version, or does not hold facts. */
export function factsOf(stored: StoredRecord, where: string): Outcome<DayFacts> {
  const opened = open(stored, where);
  if (!opened.ok) return opened;
  const facts = FACTS.safeParse(opened.value.get('facts'));
  return facts.success ? answered(facts.data) : refused(invalid(where, facts.error.message));
}

export function mappingOf(stored: StoredRecord, where: string): Outcome<Mapping> {
  const opened = open(stored, where);
  if (!opened.ok) return opened;
  const mapping = MAPPING.safeParse(opened.value.get('mapping'));
  return mapping.success ? answered(mapping.data) : refused(invalid(where, mapping.error.message));
}

/** What the facts are known by in a cache key: SHA-256 of their JSON with sorted keys. The order of entries counts. */
export function factsDigest(facts: DayFacts): string {
  return sha256(JSON.stringify(sorted(facts)));
}

function sealed(value: object): StoredRecord {
  const record = JSON.stringify(value);
  return { record, digest: sha256(record) };
}

function open({ record, digest }: StoredRecord, where: string): Outcome<ReadonlyMap<string, unknown>> {
  const got = sha256(record);
  if (got !== digest)
    return refused({
      kind: 'damaged-record',
      message: `invalid record of ${where}: it is damaged, checksum ${got}, expected ${digest}`,
      numbers: { got, expected: digest },
    });
  const parsed: unknown = JSON.parse(record);
  const fields = new Map<string, unknown>(typeof parsed === 'object' && parsed !== null ? Object.entries(parsed) : []);
  const version = Number(fields.get('version'));
  if (version >= 1 && version <= RECORD_VERSION) return answered(fields);
  return refused({
    kind: 'later-version',
    message: `record version of ${where} out of validity: ${fields.get('version')}, valid 1–${RECORD_VERSION}`,
    numbers: { value: version, limit: RECORD_VERSION },
  });
}

function invalid(where: string, problem: string) {
  return { kind: 'invalid-record', message: `invalid record of ${where}: ${problem}` };
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const pairs = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(pairs.map(([key, part]) => [key, sorted(part)]));
}
