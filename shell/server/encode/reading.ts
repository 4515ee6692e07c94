import { MEANINGS } from '../../../day/channels/meanings.ts';
import type { TableFormat } from '../../../day/channels/table.ts';
import type { ColumnView, FileView, Vocabulary } from '../../contract/index.ts';
import type { ColumnReading, FileReading } from '../../desk/desk.ts';
import { plainFinding, plainNumber, plainSamples } from './plain.ts';

export function encodeReading(reading: FileReading): FileView {
  const { source, file, bytes, table, columns, columnSet, remembered, findings } = reading;
  return {
    source,
    file,
    bytes,
    format: formatInWords(table.format),
    rows: table.rows,
    preamble: table.preamble.slice(0, 20),
    columnSet,
    remembered,
    columns: columns.map(encodeColumn),
    findings: [...table.findings, ...findings].map(plainFinding),
  };
}

export function encodeVocabulary(): Vocabulary {
  return { meanings: Object.entries(MEANINGS).map(([meaning, line]) => ({ meaning, ...line })) };
}

function encodeColumn({ name, unit, proposal, low, high, missing, sketch }: ColumnReading): ColumnView {
  const { meaning, position, origin, confidence, reason, alternatives, question } = proposal;
  return {
    name,
    unit,
    meaning,
    position,
    proposedUnit: proposal.unit,
    origin,
    confidence,
    reason,
    alternatives: alternatives.map((alternative) => ({ ...alternative })),
    question,
    low: plainNumber(low),
    high: plainNumber(high),
    missing,
    sketch: plainSamples(sketch),
  };
}

function formatInWords(format: TableFormat): string {
  if (format.kind !== 'delimited') return format.kind === 'parquet' ? 'Parquet' : 'Arrow IPC';
  const { delimiter, decimal, encoding, thousands } = format.dialect;
  const between = DELIMITERS[delimiter];
  const grouped = thousands === '' ? '' : `, thousands "${thousands}"`;
  return `text, ${between} between the columns, decimal "${decimal}"${grouped}, ${encoding}`;
}

const DELIMITERS = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar', ' ': 'space' } as const;
