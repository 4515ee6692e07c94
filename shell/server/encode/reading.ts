import { type Alternative, MEANINGS } from '../../../day/channels/index.ts';
import type { AlternativeView, ColumnView, FileView, Vocabulary } from '../../contract/index.ts';
import type { ColumnReading, FileReading } from '../../desk/index.ts';
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
  return {
    meanings: Object.entries(MEANINGS).map(([meaning, { subject, kind, title }]) => ({
      meaning,
      subject,
      kind,
      title,
    })),
  };
}

function encodeColumn({ name, unit, proposal, low, high, missing, sketch }: ColumnReading): ColumnView {
  const { meaning, position, origin, confidence, reason, alternatives, question, divisor, zero } = proposal;
  return {
    name,
    unit,
    meaning,
    position,
    proposedUnit: proposal.unit,
    divisor,
    zero,
    origin,
    confidence,
    reason,
    alternatives: alternatives.map(encodeAlternative),
    question,
    low: plainNumber(low),
    high: plainNumber(high),
    missing,
    sketch: plainSamples(sketch),
  };
}

function encodeAlternative({ meaning, unit, divisor, zero, confidence, reason }: Alternative): AlternativeView {
  return { meaning, unit, divisor, zero, confidence, reason };
}

function formatInWords(format: FileReading['table']['format']): string {
  if (format.kind === 'sound') {
    const { seconds, tracks, recordedRate } = format;
    return `sound, ${seconds.toFixed(1)} s, ${tracks} ${tracks === 1 ? 'track' : 'tracks'} at ${recordedRate} Hz`;
  }
  if (format.kind !== 'delimited') return format.kind === 'parquet' ? 'Parquet' : 'Arrow IPC';
  const { delimiter, decimal, encoding, thousands } = format.dialect;
  const between = DELIMITERS[delimiter];
  const grouped = thousands === '' ? '' : `, thousands "${thousands}"`;
  return `text, ${between} between the columns, decimal "${decimal}"${grouped}, ${encoding}`;
}

const DELIMITERS = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar', ' ': 'space' } as const;
