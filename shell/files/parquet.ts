import type { FileHandle } from 'node:fs/promises';
import {
  type AsyncBuffer,
  type FileMetaData,
  parquetMetadataAsync,
  parquetRead,
  parquetSchema,
  type SchemaTree,
} from 'hyparquet';
import { compressors } from 'hyparquet-compressors';
import { answered, type Finding, type Outcome, refused } from '../../core/quantities/index.ts';
import { type Column, headed, type Table, uniqueNames } from '../../day/channels/index.ts';
import { schemaUnits } from './arrow-units.ts';
import { cancelled, type Watch } from './bytes-source.ts';
import { damaged, notPlain } from './columnar-findings.ts';
import { ValueColumn, type ValueMeaning } from './value-column.ts';

export interface ColumnarOptions extends Watch {
  readonly file: string;
  readonly source: string;
  readonly select?: readonly string[] | undefined;
}

/**
 * A Parquet file as a table, row group by row group. Times become seconds, null becomes empty, 64-bit integers become doubles.
 * Units: metadata key `unit` of the column, else the Arrow schema kept in the file, else the file's key `units`, else brackets in the name.
 *
 * Refuses: damaged-file, cancelled.
 */
export async function readParquet(buffer: AsyncBuffer, options: ColumnarOptions): Promise<Outcome<Table>> {
  const { file, source, signal, progress } = options;
  try {
    const metadata = await parquetMetadataAsync(buffer);
    const { plain, findings } = plainColumns(metadata, options);
    const rows = plausibleRows(metadata, buffer.byteLength);
    const filled = new Map(plain.map(({ path, meaning }) => [path, new ValueColumn(rows, meaning)]));
    let at = 0;
    for (const group of metadata.row_groups) {
      if (signal?.aborted) return refused(cancelled(at / Math.max(1, rows)));
      const end = at + Number(group.num_rows);
      await readGroup({ buffer, metadata, from: at, to: end }, filled);
      at = end;
      progress?.(at / Math.max(1, rows));
    }
    const columns = plain.map(({ path, name, unit }): Column => columnOf(filled, path).column(name, unit));
    return answered({ source, file, format: { kind: 'parquet' }, columns, rows, preamble: [], findings }, findings);
  } catch (error) {
    return refused(damaged('Parquet', file, error));
  }
}

/** The parts of bytes in memory that the library asks for. */
export function bytesBuffer(bytes: Uint8Array): AsyncBuffer {
  return { byteLength: bytes.length, slice: (start, end) => new Uint8Array(bytes.slice(start, end)).buffer };
}

/** The parts of an open file that the library asks for. */
export function fileBuffer(handle: FileHandle, size: number): AsyncBuffer {
  return {
    byteLength: size,
    async slice(start, end = size) {
      const part = new Uint8Array(Math.max(0, end - start));
      await handle.read(part, 0, part.length, start);
      return part.buffer;
    },
  };
}

async function readGroup(
  part: { buffer: AsyncBuffer; metadata: FileMetaData; from: number; to: number },
  filled: ReadonlyMap<string, ValueColumn>,
): Promise<void> {
  if (filled.size === 0 || part.from === part.to) return;
  await parquetRead({
    file: part.buffer,
    metadata: part.metadata,
    columns: [...filled.keys()],
    rowStart: part.from,
    rowEnd: part.to,
    compressors,
    parsers: SECONDS,
    onChunk: ({ columnName, columnData, rowStart }) => filled.get(columnName)?.put(columnData, rowStart),
  });
}

/** A damaged count of rows must not be believed: it decides how much memory is asked for. */
function plausibleRows(metadata: FileMetaData, bytes: number): number {
  const rows = Number(metadata.num_rows);
  const inGroups = metadata.row_groups.reduce((sum, group) => sum + Number(group.num_rows), 0);
  if (rows !== inGroups || rows < 0 || rows > MOST_ROWS_PER_BYTE * bytes)
    throw new Error(`${rows} rows stated, ${inGroups} in its groups`);
  return rows;
}

interface PlainColumn {
  readonly path: string;
  readonly name: string;
  readonly unit: string;
  readonly meaning: ValueMeaning;
}

function plainColumns(
  metadata: FileMetaData,
  options: ColumnarOptions,
): { plain: readonly PlainColumn[]; findings: readonly Finding[] } {
  const units = unitsOf(metadata);
  const findings: Finding[] = [];
  const fields: SchemaTree[] = [];
  for (const child of parquetSchema(metadata).children) {
    const { element } = child;
    const isPlain =
      child.children.length === 0 &&
      element.repetition_type !== 'REPEATED' &&
      element.converted_type !== 'INTERVAL' &&
      element.converted_type !== 'BSON';
    if (isPlain) fields.push(child);
    else findings.push(notPlain(element.name, options.file));
  }
  const heads = fields.map(({ element }) => headed(element.name, units.get(element.name) ?? ''));
  const { names } = uniqueNames(heads.map(({ name }) => name));
  const all = fields.map(
    (field, k): PlainColumn => ({
      path: field.element.name,
      name: names[k] ?? field.element.name,
      unit: heads[k]?.unit ?? '',
      meaning: meaningOf(field),
    }),
  );
  return { plain: all.filter(({ name }) => options.select?.includes(name) ?? true), findings };
}

function meaningOf({ element }: SchemaTree): ValueMeaning {
  const logical = element.logical_type;
  const converted = element.converted_type;
  const isDate = logical?.type === 'TIMESTAMP' || logical?.type === 'DATE' || converted === 'DATE';
  if (isDate || converted?.startsWith('TIMESTAMP') || element.type === 'INT96') return { writing: 'date', factor: 1 };
  if (logical?.type === 'TIME') return { writing: 'clock', factor: TIME_UNITS[logical.unit] };
  if (converted === 'TIME_MILLIS') return { writing: 'clock', factor: 1e-3 };
  if (converted === 'TIME_MICROS') return { writing: 'clock', factor: 1e-6 };
  return { writing: 'number', factor: 1 };
}

function unitsOf(metadata: FileMetaData): ReadonlyMap<string, string> {
  const units = new Map<string, string>();
  for (const { key, value } of metadata.key_value_metadata ?? []) {
    if (key === 'units' && value !== undefined) for (const [name, unit] of writtenUnits(value)) units.set(name, unit);
    if (key === 'ARROW:schema' && value !== undefined)
      for (const [name, unit] of schemaUnits(value)) units.set(name, unit);
  }
  for (const column of metadata.row_groups[0]?.columns ?? []) {
    const unit = column.meta_data?.key_value_metadata?.find(({ key }) => key === 'unit')?.value;
    const name = column.meta_data?.path_in_schema[0];
    if (unit !== undefined && name !== undefined) units.set(name, unit);
  }
  return units;
}

/** JSON object of names and units; anything else in that key is somebody else's and says nothing. */
function writtenUnits(text: string): readonly (readonly [string, string])[] {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value !== 'object' || value === null) return [];
    return Object.entries(value).filter((entry): entry is [string, string] => typeof entry[1] === 'string');
  } catch {
    return [];
  }
}

function columnOf(filled: ReadonlyMap<string, ValueColumn>, path: string): ValueColumn {
  const column = filled.get(path);
  if (!column) throw new Error(`no column ${path}`);
  return column;
}

/** Seconds since 1970-01-01 UTC; the whole seconds are split off first so that the fraction keeps its digits. */
function seconds(count: bigint, perSecond: bigint): number {
  return Number(count / perSecond) + Number(count % perSecond) / Number(perSecond);
}

const SECONDS = {
  timestampFromMilliseconds: (count: bigint) => seconds(BigInt(count), 1000n),
  timestampFromMicroseconds: (count: bigint) => seconds(BigInt(count), 1000000n),
  timestampFromNanoseconds: (count: bigint) => seconds(BigInt(count), 1000000000n),
  dateFromDays: (days: number) => days * 86400,
};
const TIME_UNITS = { MILLIS: 1e-3, MICROS: 1e-6, NANOS: 1e-9 } as const;

/** Even a constant column takes some bytes per page; more rows than this for each byte are a damaged count. @source our default */
const MOST_ROWS_PER_BYTE = 1000;
