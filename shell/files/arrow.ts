import { zstdCompressSync, zstdDecompressSync } from 'node:zlib';
import {
  type Table as ArrowTable,
  CompressionType,
  compressionRegistry,
  DataType,
  type Field,
  tableFromIPC,
  type Vector,
} from 'apache-arrow';
import { answered, type Finding, type Outcome, refused } from '../../core/quantities/index.ts';
import { type Column, headed, type Table, uniqueNames } from '../../day/channels/index.ts';
import { fieldUnits } from './arrow-units.ts';
import { damaged, notPlain } from './columnar-findings.ts';
import type { ColumnarOptions } from './parquet.ts';
import { ValueColumn, type ValueMeaning } from './value-column.ts';

compressionRegistry.set(CompressionType.ZSTD, {
  encode: (data: Uint8Array) => zstdCompressSync(data),
  decode: (data: Uint8Array) => zstdDecompressSync(data),
});

/**
 * An Arrow IPC file or stream as a table. Times become seconds, null becomes empty, 64-bit integers become doubles.
 * Bodies may be plain or Zstandard; LZ4 bodies are refused.
 *
 * Refuses: damaged-file, unsupported-compression.
 */
export function readArrow(bytes: Uint8Array, options: ColumnarOptions): Outcome<Table> {
  const { file, source } = options;
  let read: ArrowTable;
  try {
    read = tableFromIPC(bytes);
    return tableOf(read);
  } catch (error) {
    const isCompressed = error instanceof Error && error.message.includes('codec not found');
    if (!isCompressed) return refused(damaged('Arrow', file, error));
    return refused({
      kind: 'unsupported-compression',
      message: 'invalid Arrow file: LZ4 bodies cannot be read here, expected none or Zstandard',
      place: { file },
    });
  }

  function tableOf(arrow: ArrowTable): Outcome<Table> {
    const rows = arrow.numRows;
    // A damaged length must not be believed: it decides how much memory is asked for.
    if (!(rows >= 0 && rows <= MOST_ROWS_PER_BYTE * bytes.length))
      throw new Error(`${rows} rows stated in ${bytes.length} bytes`);
    const units = fieldUnits(arrow.schema);
    const fields = arrow.schema.fields.map((field, index) => ({ field, index }));
    const findings: Finding[] = [];
    const plain = fields.filter(({ field }) => {
      const isPlain = meaningOf(field.type) !== undefined;
      if (!isPlain) findings.push(notPlain(field.name, file));
      return isPlain;
    });
    const heads = plain.map(({ field }) => headed(field.name, units.get(field.name) ?? ''));
    const { names } = uniqueNames(heads.map(({ name }) => name));
    const columns = plain.flatMap(({ field, index }, k): readonly Column[] => {
      const name = names[k] ?? field.name;
      if (!(options.select?.includes(name) ?? true)) return [];
      const vector = arrow.getChildAt(index);
      if (vector && vector.length !== rows) throw new Error(`column ${name} has ${vector.length} of ${rows} rows`);
      return vector ? [columnFrom(vector, field).column(name, unitOr(heads[k]?.unit ?? '', field.type))] : [];
    });
    return answered({ source, file, format: { kind: 'arrow' }, columns, rows, preamble: [], findings }, findings);
  }
}

function columnFrom(vector: Vector, field: Field): ValueColumn {
  const column = new ValueColumn(vector.length, meaningOf(field.type) ?? PLAIN);
  const isRaw = DataType.isTimestamp(field.type) || DataType.isTime(field.type) || DataType.isDuration(field.type);
  let row = 0;
  for (const part of vector.data) {
    const values: ArrayLike<unknown> = part.values;
    const from = row;
    if (isRaw)
      column.put(
        Array.from({ length: part.length }, (_, k) => (part.getValid(k) ? values[k] : undefined)),
        from,
      );
    row += part.length;
  }
  if (!isRaw)
    column.put(
      vector.toArray === undefined || vector.nullCount > 0 || !isFloat64(field.type)
        ? Array.from(vector)
        : vector.toArray(),
      0,
    );
  return column;
}

function isFloat64(type: DataType): boolean {
  return DataType.isFloat(type) && type.precision === 2;
}

/** What the raw values of a type mean; undefined for types without one value per row. */
function meaningOf(type: DataType): ValueMeaning | undefined {
  if (DataType.isTimestamp(type)) return { writing: 'date', factor: UNIT_SECONDS[type.unit] ?? 1 };
  if (DataType.isDate(type)) return { writing: 'date', factor: 1e-3 };
  if (DataType.isTime(type)) return { writing: 'clock', factor: UNIT_SECONDS[type.unit] ?? 1 };
  if (DataType.isDuration(type)) return { writing: 'number', factor: UNIT_SECONDS[type.unit] ?? 1 };
  if (DataType.isDictionary(type)) return meaningOf(type.dictionary);
  const isNumber = DataType.isFloat(type) || DataType.isInt(type) || DataType.isBool(type);
  const isText =
    DataType.isUtf8(type) || DataType.isLargeUtf8(type) || DataType.isUtf8View(type) || DataType.isNull(type);
  return isNumber || isText ? PLAIN : undefined;
}

function unitOr(unit: string, type: DataType): string {
  return unit === '' && DataType.isDuration(type) ? 's' : unit;
}

const PLAIN: ValueMeaning = { writing: 'number', factor: 1 };

/** Seconds, milliseconds, microseconds, nanoseconds. @source Apache Arrow columnar format, Schema.fbs, TimeUnit */
const UNIT_SECONDS: readonly number[] = [1, 1e-3, 1e-6, 1e-9];

/** Even compressed, more rows than this for each byte are a damaged length. @source our default */
const MOST_ROWS_PER_BYTE = 1000;
