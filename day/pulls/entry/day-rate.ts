import { type Alignment, type ClockPiece, combineRates, joinRecords } from '../../channels/index.ts';
import type { OpenEntry } from './open-entry.ts';

/**
 * The same two clocks made all logs of a day, so their rate is one number: known far better from all entries together than from one.
 * Every alignment keeps the time in the middle of each piece, where it is known best, and turns about it. Entries whose rate is known
 * better by themselves, or that were joined by hand, stay.
 */
export function withDayRate(
  opened: ReadonlyMap<string, OpenEntry | undefined>,
): ReadonlyMap<string, OpenEntry | undefined> {
  const combined = combineRates([...opened.values()].flatMap((open) => (open ? [open.joined.alignment] : [])));
  if (!combined.ok) return opened;
  const { value: rate, standardUncertainty } = combined.value;
  return new Map([...opened].map(([id, open]) => [id, open && turned(open, rate, standardUncertainty)]));
}

function turned(open: OpenEntry, rate: number, spread: number): OpenEntry {
  const { joined } = open;
  const { roller, engine } = joined.logs;
  if (joined.alignment.by !== 'speed' || !roller || !engine) return open;
  const pieces = joined.alignment.pieces.map((piece) => aboutTheMiddle(piece, rate, spread));
  const alignment: Alignment = { ...joined.alignment, pieces };
  const record = { ...joinRecords({ roller, engine, alignment }), findings: joined.record.findings };
  return { ...open, joined: { ...joined, alignment, record } };
}

function aboutTheMiddle(piece: ClockPiece, rate: number, spread: number): ClockPiece {
  if (!(spread < piece.rateUncertainty)) return piece;
  const middle = (piece.from + piece.to) / 2;
  return { ...piece, rate, rateUncertainty: spread, offset: piece.offset + (piece.rate - rate) * middle };
}
