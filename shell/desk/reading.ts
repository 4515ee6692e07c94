import { createHash } from 'node:crypto';
import { type Outcome, refused } from '../../core/quantities/index.ts';
import {
  agreedProposals,
  type ColumnMapping,
  checkHealth,
  columnSetText,
  decideMapping,
  type Mapping,
  type Proposal,
  proposeMapping,
  type Recording,
  type Table,
  toRecording,
} from '../../day/channels/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import type { ColumnReading, FileReading } from './desk.ts';

/** A table with what we believe about it. */
export interface ReadTable {
  readonly table: Table;
  readonly columnSet: string;
  readonly proposals: readonly Proposal[];
  readonly mapping: readonly ColumnMapping[];
  readonly open: readonly Proposal[];
  /** What a person decided before for this set of columns. */
  readonly decided: Mapping | undefined;
}

/** Recognises the columns of a table; a mapping that a person decided before wins. `recall` finds one by its set of columns. */
export function readTable(table: Table, recall: (columnSet: string) => Mapping | undefined): ReadTable {
  const columnSet = createHash('sha256').update(columnSetText(table)).digest('hex');
  const proposals = proposeMapping(table);
  const decided = recall(columnSet);
  const { mapping, open } = decideMapping(proposals, decided);
  return { table, columnSet, proposals, mapping, open, decided };
}

/**
 * Files with the same set of columns decided together: what is clear in one of them holds in all. A mapping in the day's own facts goes
 * before one that was remembered from elsewhere.
 */
export function decidedTogether(
  reads: ReadonlyMap<string, ReadTable>,
  facts: Pick<DayFacts, 'mappings'>,
): ReadonlyMap<string, ReadTable> {
  const groups = Map.groupBy(reads, ([, read]) => deviceOf(read));
  return new Map(
    [...groups.values()].flatMap((files) => {
      const rest = files.map(([file, read]) => ({ file, proposals: read.proposals.filter((one) => !isTime(one)) }));
      const agreed = new Map(agreedProposals(rest).map((proposal) => [proposal.column, proposal]));
      return files.map(([file, read]): [string, ReadTable] => {
        const proposals = read.proposals.map((proposal) =>
          isTime(proposal) ? proposal : (agreed.get(proposal.column) ?? proposal),
        );
        const decided = facts.mappings.find(({ columnSet }) => columnSet === read.columnSet) ?? read.decided;
        return [file, { ...read, proposals, decided, ...pick(decideMapping(proposals, decided)) }];
      });
    }),
  );
}

/** Files with the same columns beside time come from one device: programs write time now as seconds, now as a clock. */
function deviceOf({ table, proposals }: ReadTable): string {
  const columns = table.columns.filter((_, i) => !isTime(proposals[i]));
  return columns.map(({ name, unit }) => `${name}\t${unit}`).join('\n');
}

function isTime(proposal: Proposal | undefined): boolean {
  return proposal?.meaning === 'time';
}

function pick({ mapping, open }: ReturnType<typeof decideMapping>): Pick<ReadTable, 'mapping' | 'open'> {
  return { mapping, open };
}

/**
 * The recording of a read table: SI channels, checked for health. Refused without a time, unless the row rate [Hz] is known.
 */
export function recordingOf({ table, mapping }: ReadTable, rowsPerSecond?: number): Outcome<Recording> {
  const recording = toRecording({ table, mapping, ...(rowsPerSecond === undefined ? {} : { rowsPerSecond }) });
  return recording.ok ? { ...recording, value: checkHealth(recording.value) } : recording;
}

/** What the mapping step shows of a file. */
export function fileReading(
  { table, columnSet, proposals, mapping, open, decided }: ReadTable,
  bytes: number,
): FileReading {
  const waiting = new Set(open.map(({ column }) => column));
  return {
    source: table.source,
    file: table.file,
    bytes,
    table: { format: table.format, rows: table.rows, preamble: table.preamble, findings: table.findings },
    columns: proposals.map((proposal, i) => columnReading(table.columns[i], proposalShown(proposal, mapping, waiting))),
    columnSet,
    remembered: decided !== undefined,
    findings: table.findings,
  };
}

/** A decided column shows what was decided, without its question. */
function proposalShown(proposal: Proposal, mapping: readonly ColumnMapping[], waiting: ReadonlySet<string>): Proposal {
  if (waiting.has(proposal.column)) return proposal;
  const decided = mapping.find(({ column }) => column === proposal.column);
  const { question: _, ...rest } = proposal;
  return decided?.confirmed
    ? {
        ...rest,
        meaning: decided.meaning,
        unit: decided.unit,
        confidence: 1,
        reason: 'decided before for these columns',
      }
    : rest;
}

const SKETCH = 120;

function columnReading(column: Table['columns'][number] | undefined, proposal: Proposal): ColumnReading {
  const samples = column?.samples ?? new Float64Array();
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let missing = 0;
  for (const sample of samples) {
    if (!Number.isFinite(sample)) missing += 1;
    else {
      low = Math.min(low, sample);
      high = Math.max(high, sample);
    }
  }
  const step = Math.max(1, Math.ceil(samples.length / SKETCH));
  return {
    name: proposal.column,
    unit: column?.unit ?? '',
    proposal,
    low,
    high,
    missing,
    sketch: Array.from({ length: Math.ceil(samples.length / step) }, (_, i) => samples[i * step] ?? Number.NaN),
  };
}

export function unknownDay<Value>(day: string): Outcome<Value> {
  return refused({ kind: 'unknown-day', message: `unknown day: ${day}`, numbers: { value: day } });
}

export function unknownEntry<Value>(entry: string): Outcome<Value> {
  return refused({ kind: 'unknown-entry', message: `unknown entry: ${entry}`, numbers: { value: entry } });
}
