import { answered, type Finding, type Outcome } from '../../../core/quantities/index.ts';
import type { Column, Dialect, Table } from '../table.ts';
import { delimitedStream } from './delimited-stream.ts';
import { detectDialect, HEAD_BYTES } from './dialect.ts';
import { applySettled, isSettled } from './settle.ts';
import type { ColumnSummary, DelimitedSummary } from './summary.ts';

export interface DelimitedInput {
  readonly bytes: Uint8Array;
  /** Name for the messages. */
  readonly file: string;
  /** SHA-256 of the bytes, hex. */
  readonly source: string;
  /** What a person or an earlier file has decided; the rest is detected. */
  readonly dialect?: Partial<Dialect>;
  /** Names of the columns to keep; all when absent. */
  readonly select?: readonly string[] | undefined;
}

/**
 * A delimited text as columns, numbers as written and correctly rounded; missing is NaN with a reason.
 *
 * Refuses what `detectDialect` and `delimitedStream` refuse. Findings carry line numbers.
 */
export function readDelimited(input: DelimitedInput): Outcome<Table> {
  const { bytes, file } = input;
  const found = detectDialect(bytes.subarray(0, HEAD_BYTES), { ...input.dialect, file });
  if (!found.ok) return found;
  const { dialect, evidence } = found.value;
  const read = readAll(input, dialect);
  if (!read.ok) return read;
  // Only whole numbers in the head: the first fraction further down decides.
  const undecided =
    evidence.decimalCertainty === 'none' && read.value.summary.columns.some(({ tally }) => tally.otherDecimalProof > 0);
  if (undecided) {
    const second = readAll(input, { ...dialect, decimal: dialect.decimal === '.' ? ',' : '.' });
    if (second.ok && !second.value.summary.columns.some(({ tally }) => tally.otherDecimal > 0)) {
      return tableOf(input, second.value, [...found.findings, lateDecimal(file, second.value.dialect)]);
    }
  }
  return tableOf(input, read.value, found.findings);
}

/** A column of the table from its samples with cell codes; settles them in place. */
export function settledColumn(summary: ColumnSummary, samples: Float64Array, mask: Uint8Array): Column {
  if (!isSettled(summary.tally)) applySettled(summary.settled, samples, mask);
  const { name, unit, writing, texts } = summary;
  return { name, unit, samples, mask, writing, texts };
}

interface ReadAll {
  readonly dialect: Dialect;
  readonly summary: DelimitedSummary;
  readonly samples: readonly Float64Array[];
  readonly mask: readonly Uint8Array[];
}

function readAll(input: DelimitedInput, dialect: Dialect): Outcome<ReadAll> {
  let samples: Float64Array[] = [];
  let mask: Uint8Array[] = [];
  let capacity = 0;
  let rows = 0;
  const stream = delimitedStream({
    dialect,
    file: input.file,
    select: input.select,
    onBlock(block) {
      if (rows + block.rows > capacity) {
        capacity = Math.max(2 * capacity, expectedRows(input.bytes));
        samples = block.samples.map((_, k) => grown(new Float64Array(capacity), samples[k]));
        mask = block.mask.map((_, k) => grown(new Uint8Array(capacity), mask[k]));
      }
      block.samples.forEach((column, k) => {
        samples[k].set(column, rows);
      });
      block.mask.forEach((column, k) => {
        mask[k].set(column, rows);
      });
      rows += block.rows;
    },
  });
  stream.push(input.bytes);
  const ended = stream.end();
  if (!ended.ok) return ended;
  const summary = ended.value;
  const none = summary.columns.map(() => new Float64Array(0));
  return answered({
    dialect,
    summary,
    samples: rows === 0 ? none : samples.map((column) => fitted(column, rows)),
    mask: rows === 0 ? none.map(() => new Uint8Array(0)) : mask.map((column) => fitted(column, rows)),
  });
}

/** Rows to make room for, from the length of the lines in the head; a little more than they say. */
function expectedRows(bytes: Uint8Array): number {
  let lines = 0;
  const head = Math.min(bytes.length, SAMPLED_BYTES);
  for (let i = 0; i < head; i++) if (bytes[i] === 10 || bytes[i] === 13) lines++;
  return 1024 + Math.ceil(1.02 * bytes.length * (lines / Math.max(1, head)));
}

/** The first rows; a copy only where much room would stay unused. */
function fitted<Kind extends Float64Array | Uint8Array>(column: Kind, rows: number): Kind;
function fitted(column: Float64Array | Uint8Array, rows: number): Float64Array | Uint8Array {
  return rows * 1.1 + 64 < column.length ? column.slice(0, rows) : column.subarray(0, rows);
}

function grown<Kind extends Float64Array | Uint8Array>(into: Kind, old: Kind | undefined): Kind {
  if (old) into.set(old);
  return into;
}

function tableOf(input: DelimitedInput, read: ReadAll, before: readonly Finding[]): Outcome<Table> {
  const { summary, samples, mask, dialect } = read;
  const findings = [...before, ...summary.findings];
  const table: Table = {
    source: input.source,
    file: input.file,
    format: { kind: 'delimited', dialect },
    columns: summary.columns.map((column, k) => settledColumn(column, samples[k], mask[k])),
    rows: summary.rows,
    preamble: summary.preamble,
    findings,
  };
  return answered(table, findings);
}

function lateDecimal(file: string, dialect: Dialect): Finding {
  return {
    kind: 'decimal-decided-late',
    weight: 'note',
    message: `decimal ${dialect.decimal === ',' ? 'comma' : 'point'} decided by a cell far below the head: everything above is whole`,
    place: { file },
  };
}

const SAMPLED_BYTES = 1 << 18;
