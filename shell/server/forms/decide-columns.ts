import { answered, KINDS, type Outcome, refused, unitNamed } from '../../../core/quantities/index.ts';
import { type ColumnMapping, type Mapping, MEANINGS, type Meaning } from '../../../day/channels/index.ts';
import type { MappingDecision } from '../../contract/index.ts';
import type { FileReading } from '../../desk/index.ts';

/** The decided mapping of a file's columns: every column exists, every meaning is known, every unit fits its meaning. */
export function decidedMapping(reading: FileReading, { columns }: MappingDecision): Outcome<Mapping> {
  const decided: ColumnMapping[] = [];
  for (const line of columns) {
    const seen = reading.columns.find(({ name }) => name === line.column);
    if (!seen) return refusedColumn(reading, line.column, `unknown column: ${line.column}`);
    if (!isMeaning(line.meaning)) return refusedColumn(reading, line.column, `unknown meaning: ${line.meaning}`);
    const unit = unitNamed(line.unit);
    const { dimension, metric } = KINDS[MEANINGS[line.meaning].kind];
    if (line.meaning !== 'unknown' && line.meaning !== 'text' && unit?.dimension !== dimension) {
      const message = `invalid unit of ${line.column}: "${line.unit}", expected a unit such as ${metric}`;
      return refusedColumn(reading, line.column, message);
    }
    decided.push({
      column: line.column,
      meaning: line.meaning,
      unit: unit?.symbol ?? line.unit,
      ...(line.position !== undefined && line.position !== '' && { position: line.position }),
      ...(line.divisor !== undefined && { divisor: line.divisor }),
      ...(line.zero !== undefined && { zero: line.zero }),
      ...(line.meaning === seen.proposal.meaning && { origin: seen.proposal.origin }),
      confirmed: true,
    });
  }
  return answered({ columnSet: reading.columnSet, columns: decided });
}

function isMeaning(text: string): text is Meaning {
  return Object.hasOwn(MEANINGS, text);
}

function refusedColumn(reading: FileReading, channel: string, message: string): Outcome<Mapping> {
  return refused({ kind: 'invalid-mapping', message, place: { file: reading.file, channel } });
}
