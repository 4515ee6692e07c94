import { basename } from 'node:path';
import { answered, type Finding, type Outcome, refused } from '../../core/quantities/index.ts';
import {
  type Column,
  type ColumnSummary,
  type Dialect,
  delimitedStream,
  detectDialect,
  HEAD_BYTES,
  type RowBlock,
  type Table,
} from '../../day/channels/index.ts';
import { eachChunk, headOf, type Watch, withFile } from './bytes-source.ts';
import { ColumnStatistics } from './column-statistics.ts';
import { openTable } from './open-table.ts';

/** What one pass over a column has seen. Numbers as written in the file; NaN where there was no value. */
export interface ColumnScan extends Pick<Column, 'name' | 'unit' | 'writing' | 'texts'> {
  /** Cells with a value; cells without. */
  readonly count: number;
  readonly missing: number;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
  /** At most 4096 samples, every so-many-th row of the file in order, missing as NaN. */
  readonly sketch: Float64Array;
  /** Rows from one sample of the sketch to the next. */
  readonly sketchStep: number;
}

export interface FileScan {
  readonly file: string;
  readonly dialect: Dialect;
  readonly rows: number;
  readonly preamble: readonly string[];
  readonly columns: readonly ColumnScan[];
  readonly findings: readonly Finding[];
}

export interface ScanOptions extends Watch {
  readonly file?: string | undefined;
  readonly dialect?: Partial<Dialect> | undefined;
}

/**
 * Statistics of every column of a delimited file in one pass and bounded memory, however long the file is.
 *
 * Refuses: cancelled and what `openTable` refuses for a delimited text.
 */
export async function scanFile(path: string, options: ScanOptions = {}): Promise<Outcome<FileScan>> {
  const file = options.file ?? basename(path);
  return withFile(path, async (handle, size) => {
    const found = detectDialect(await headOf(handle, HEAD_BYTES), { ...options.dialect, file });
    if (!found.ok) return found;
    const { dialect } = found.value;
    let columns: readonly ColumnStatistics[] = [];
    const stream = delimitedStream({
      dialect,
      file,
      onBlock(block: RowBlock) {
        if (columns.length === 0) columns = block.samples.map(() => new ColumnStatistics());
        columns.forEach((column, k) => {
          column.add(block, k);
        });
      },
    });
    const stopped = await eachChunk(handle, size, { ...options, chunk: (bytes) => stream.push(bytes) });
    if (stopped) return refused(stopped);
    const ended = stream.end();
    if (!ended.ok) return ended;
    const { rows, preamble } = ended.value;
    const findings = [...found.findings, ...ended.findings];
    const scans = ended.value.columns.map((summary, k) => scanOf(summary, columns[k] ?? new ColumnStatistics(), rows));
    return answered({ file, dialect, rows, preamble, columns: scans, findings }, findings);
  });
}

/** Chosen columns of a file: the second pass, after a scan or a look at the names. */
export async function loadColumns(
  path: string,
  names: readonly string[],
  options: ScanOptions = {},
): Promise<Outcome<Table>> {
  const read = await openTable(path, { ...options, select: names });
  if (!read.ok) return read;
  const missing = names.filter((name) => !read.value.columns.some((column) => column.name === name));
  if (missing.length === 0) return read;
  return refused({
    kind: 'missing-column',
    message: `missing column: ${missing.join(', ')}`,
    place: { file: read.value.file },
    numbers: { missing: missing.join(', ') },
  });
}

function scanOf(summary: ColumnSummary, statistics: ColumnStatistics, rows: number): ColumnScan {
  const { name, unit, writing, texts, settled } = summary;
  return { name, unit, writing, texts, ...statistics.result(settled, rows) };
}
