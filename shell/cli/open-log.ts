import { stat } from 'node:fs/promises';
import { answered, type Finding, type Outcome } from '../../core/quantities/index.ts';
import { type Mapping, REASONS, type Table } from '../../day/channels/index.ts';
import { type FileReading, fileReading, type ReadTable, readTable } from '../desk/index.ts';
import { type FileScan, loadColumns, openTable, scanFile, type Watch } from '../files/index.ts';
import { checkedColumns, columnDecisions } from './column-decisions.ts';
import type { Asked, Surroundings } from './command.ts';
import { work } from './progress.ts';

/** A log as its columns were believed or decided to be. `scanned`: too large to be held, seen in one pass. */
export interface OpenedLog {
  readonly path: string;
  readonly read: ReadTable;
  readonly reading: FileReading;
  readonly scanned: boolean;
}

/** Delimited text above this size is scanned instead of held [bytes]. @source our default: about ten times its size would be needed */
const SCANNED_BYTES = 64 << 20;

interface Seen {
  readonly table: Table;
  readonly scan: FileScan | undefined;
}

type Recall = (columnSet: string) => Mapping | undefined;

/** Opens a log, with progress and cancel. What was decided with `--column` goes before what `recall` remembers. */
export async function openLog(
  path: string,
  recall: Recall,
  { asked, surroundings }: { readonly asked: Asked; readonly surroundings: Surroundings },
): Promise<Outcome<OpenedLog>> {
  const bytes = await stat(path).then(
    (found) => (found.isFile() ? found.size : 0),
    () => 0,
  );
  const opened = await watched(`reading ${path}`, surroundings, async (watch): Promise<Outcome<Seen>> => {
    const scan = bytes > SCANNED_BYTES ? await scanFile(path, watch) : undefined;
    // Not delimited text: a columnar format, or the reader says what it is.
    if (!scan || (!scan.ok && scan.refusal.kind === 'not-delimited-text')) {
      const table = await openTable(path, watch);
      return table.ok ? answered({ table: table.value, scan: undefined }) : table;
    }
    return scan.ok ? answered({ table: sketchTable(scan.value), scan: scan.value }) : scan;
  });
  if (!opened.ok) return opened;
  const { table, scan } = opened.value;
  const decided = columnDecisions(asked.texts('column'), table);
  if (!decided.ok) return decided;
  const read = readTable(table, (columnSet) => withDecisions(recall(columnSet), decided.value, columnSet));
  const reading = fileReading(read, bytes);
  return answered({ path, read, reading: scan ? scannedReading(reading, scan) : reading, scanned: scan !== undefined });
}

/** Refuses a `--column` whose name none of the opened logs has. */
export function checkedDecisions(logs: readonly OpenedLog[], asked: Asked): Outcome<void> {
  return logs.length === 0
    ? answered(undefined)
    : checkedColumns(
        asked.texts('column'),
        logs.map(({ read }) => read.table),
      );
}

/** The log with its samples: as it is, or for a scanned one the columns whose meaning is known. */
export async function loadedLog(log: OpenedLog, surroundings: Surroundings): Promise<Outcome<ReadTable>> {
  if (!log.scanned) return answered(log.read);
  const { path, read } = log;
  const mapping = read.mapping.filter(({ meaning }) => meaning !== 'unknown' && meaning !== 'text');
  const names = mapping.map(({ column }) => column);
  const table = await watched(`loading ${names.length} columns of ${path}`, surroundings, (watch) =>
    loadColumns(path, names, watch),
  );
  return table.ok ? answered({ ...read, table: table.value, mapping }) : table;
}

async function watched<Value>(
  what: string,
  surroundings: Surroundings,
  open: (watch: Watch) => Promise<Outcome<Value>>,
): Promise<Outcome<Value>> {
  const { progress, signal, done } = work(surroundings);
  const opened = await open({ signal, progress: (share) => progress?.({ what, share }) });
  done();
  return opened;
}

/** What a scan kept of a file, as a table: every so-many-th row. */
function sketchTable({ file, dialect, preamble, columns, findings }: FileScan): Table {
  const rows = columns[0]?.sketch.length ?? 0;
  return {
    source: '',
    file,
    format: { kind: 'delimited', dialect },
    rows,
    preamble,
    findings,
    columns: columns.map(({ name, unit, writing, texts, sketch }) => ({
      name,
      unit,
      writing,
      texts,
      samples: sketch,
      mask: Uint8Array.from(sketch, (sample) => (Number.isNaN(sample) ? REASONS.empty : REASONS.measured)),
    })),
  };
}

/** The scan saw every row; the sketch only some. */
function scannedReading(reading: FileReading, scan: FileScan): FileReading {
  const step = scan.columns[0]?.sketchStep ?? 1;
  const finding: Finding = {
    kind: 'scanned-file',
    weight: 'note',
    message: `read in one pass: ranges are of all ${scan.rows} rows, columns were recognised from every ${step}th; the health of channels was not checked`,
    place: { file: scan.file },
    numbers: { rows: scan.rows, step },
  };
  return {
    ...reading,
    table: { ...reading.table, rows: scan.rows },
    findings: [...reading.findings, finding],
    columns: reading.columns.map((column, i) => {
      const seen = scan.columns[i];
      return seen ? { ...column, low: seen.min, high: seen.max, missing: seen.missing } : column;
    }),
  };
}

function withDecisions(
  before: Mapping | undefined,
  decided: Mapping['columns'],
  columnSet: string,
): Mapping | undefined {
  if (decided.length === 0) return before;
  const names = new Set(decided.map(({ column }) => column));
  return { columnSet, columns: [...(before?.columns ?? []).filter(({ column }) => !names.has(column)), ...decided] };
}
