import { createHash } from 'node:crypto';
import { median } from '../../core/numerics/index.ts';
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

/** What is known about a log from elsewhere: its row rate [Hz], and the ambient pressure [Pa] that bridges its pressures. */
export interface RecordingKnown {
  readonly rowsPerSecond?: number | undefined;
  readonly ambientPressure?: number | undefined;
}

/**
 * The recording of a read table: SI channels, checked for health. Refused without a time, unless the row rate is known. A log's own
 * barometer goes before an ambient pressure from elsewhere.
 */
export function recordingOf(
  { table, mapping }: ReadTable,
  { rowsPerSecond, ambientPressure }: RecordingKnown = {},
): Outcome<Recording> {
  const ambient = mapping.some(({ meaning }) => meaning === 'barometric-pressure') ? undefined : ambientPressure;
  const recording = toRecording({
    ...{ table, mapping },
    ...(rowsPerSecond === undefined ? {} : { rowsPerSecond }),
    ...(ambient === undefined ? {} : { barometricPressure: ambient }),
  });
  return recording.ok ? { ...recording, value: checkHealth(recording.value) } : recording;
}

/** Ambient pressure during a recording [Pa]: the middle of its barometer; undefined without one. */
export function barometerOf({ channels }: Recording): number | undefined {
  const barometer = channels.find(({ meaning }) => meaning === 'barometric-pressure');
  const value = barometer ? median(barometer.samples, 'skip') : Number.NaN;
  return Number.isFinite(value) ? value : undefined;
}

/**
 * Recordings of logs that belong together, by name. A pressure that counts from the other zero is bridged by the log's own barometer,
 * else by the stated ambient pressure, else by the barometer of another of these logs.
 */
export function recordingsOf(
  reads: ReadonlyMap<string, ReadTable>,
  { rowsPerSecond, ambientPressure }: RecordingKnown,
): ReadonlyMap<string, Outcome<Recording>> {
  const alone = new Map(
    [...reads].map(([name, read]) => [name, recordingOf(read, { rowsPerSecond, ambientPressure })]),
  );
  if (ambientPressure !== undefined) return alone;
  const measured = [...alone.values()].flatMap((one) => (one.ok ? (barometerOf(one.value) ?? []) : []))[0];
  if (measured === undefined) return alone;
  return new Map(
    [...reads].map(([name, read]) => [
      name,
      needsAmbient(read)
        ? recordingOf(read, { rowsPerSecond, ambientPressure: measured })
        : (alone.get(name) ?? recordingOf(read)),
    ]),
  );
}

/** Some pressure of it counts from the other zero, and it has no barometer of its own. */
export function needsAmbient({ mapping }: Pick<ReadTable, 'mapping'>): boolean {
  return (
    mapping.some(({ zero }) => zero !== undefined) && !mapping.some(({ meaning }) => meaning === 'barometric-pressure')
  );
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
