import type { Finding } from '../../../core/quantities/index.ts';
import type { Alignment, ClockPiece } from '../alignment.ts';
import type { Channel, Clock, Piece, Recording } from '../channel.ts';

/** One channel on the common clock of a joined record; the shape of a track of a pull's record. */
export interface ClockedChannel {
  readonly channel: Channel;
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  readonly file: string;
}

/** The shape of a joined record. */
export interface JoinedChannels {
  readonly tracks: readonly ClockedChannel[];
  readonly alignment: Alignment;
  readonly findings: readonly Finding[];
}

export interface JoinInput {
  readonly roller: Recording;
  readonly engine?: Recording;
  readonly alignment: Alignment;
}

/**
 * Every channel at its own rate on one clock, the roller's. Engine samples that no clock piece covers are left out; no value is
 * changed or made. Where the roller's clock was set back, what follows is moved on so that time never runs backwards: by the
 * engine's clock where both sides were aligned, else straight behind the last sample, with a finding.
 */
export function joinRecords({ roller, engine, alignment }: JoinInput): JoinedChannels {
  const findings: Finding[] = [...roller.findings, ...(engine?.findings ?? [])];
  const placed = placedPieces(roller, alignment, findings);
  const own = { times: ownTimes(roller.clock, placed), pieces: roller.clock.pieces };
  const tracks: ClockedChannel[] = roller.channels.map((channel) => ({ channel, ...own, file: roller.file }));
  if (engine !== undefined) {
    const kept = coveredSamples(engine.clock, alignment, placed);
    for (const channel of engine.channels) tracks.push(trackOf(channel, kept, engine.file));
    const lost = 1 - kept.index.length / Math.max(1, engine.clock.times.length);
    if (lost > 0) findings.push(leftOut(engine.file, lost));
  }
  return { tracks, alignment, findings };
}

/** A piece of the roller's clock, the clock piece that covers it, and how far it was moved on the record [s]. */
interface Placed {
  readonly piece: Piece;
  readonly cover: ClockPiece | undefined;
  readonly shift: number;
}

function placedPieces({ clock, file }: Recording, { pieces: covers, by }: Alignment, findings: Finding[]): Placed[] {
  const placed: Placed[] = [];
  let next = 0;
  let end = Number.NEGATIVE_INFINITY;
  for (const piece of clock.pieces) {
    if (piece.to <= piece.from) continue;
    const from = clock.times[piece.from];
    const to = clock.times[piece.to - 1];
    const found = covers.findIndex((cover, k) => k >= next && cover.from <= to && cover.to >= from);
    if (found >= 0) next = found;
    const cover = found >= 0 ? covers[found] : undefined;
    const before = placed[placed.length - 1];
    let shift = before?.shift ?? 0;
    if (from + shift <= end) {
      const known = by !== 'same clock' && cover !== undefined && before?.cover !== undefined;
      shift = known ? shiftByOther(from, cover, before) : end + stepOf(clock, piece) - from;
      if (from + shift <= end) shift = end + stepOf(clock, piece) - from;
      findings.push(setBack(file, { from, to, moved: shift, known }));
    }
    end = to + shift;
    placed.push({ piece, cover, shift });
  }
  return placed;
}

/** The other clock ran on: where it stands now, seen on the roller's clock as that ran before it was set. */
function shiftByOther(from: number, cover: ClockPiece, before: Placed): number {
  const other = cover.offset + (1 + cover.rate) * from;
  const { offset, rate } = before.cover ?? cover;
  return (other - offset) / (1 + rate) + before.shift - from;
}

function ownTimes({ times }: Clock, placed: readonly Placed[]): Float64Array {
  if (placed.every(({ shift }) => shift === 0)) return times;
  const moved = times.slice();
  for (const { piece, shift } of placed) for (let i = piece.from; i < piece.to; i++) moved[i] = times[i] + shift;
  return moved;
}

interface Kept {
  readonly index: Int32Array;
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
}

function coveredSamples(clock: Clock, { pieces: covers }: Alignment, placed: readonly Placed[]): Kept {
  const index: number[] = [];
  const times: number[] = [];
  const pieces: Piece[] = [];
  let next = 0;
  for (const cover of covers) {
    const shift = placed.find((candidate) => candidate.cover === cover)?.shift ?? 0;
    for (const piece of clock.pieces) {
      const start = index.length;
      for (let i = Math.max(next, piece.from); i < piece.to; i++) {
        const t = (clock.times[i] - cover.offset) / (1 + cover.rate);
        if (t > cover.to) break;
        if (t < cover.from || t + shift <= (times[times.length - 1] ?? Number.NEGATIVE_INFINITY)) continue;
        index.push(i);
        times.push(t + shift);
        next = i + 1;
      }
      if (index.length > start) pieces.push({ from: start, to: index.length });
    }
  }
  return { index: Int32Array.from(index), times: Float64Array.from(times), pieces };
}

function trackOf(channel: Channel, { index, times, pieces }: Kept, file: string): ClockedChannel {
  const samples = new Float64Array(index.length);
  const mask = new Uint8Array(index.length);
  for (let k = 0; k < index.length; k++) {
    samples[k] = channel.samples[index[k]];
    mask[k] = channel.mask[index[k]];
  }
  return { channel: { ...channel, samples, mask }, times, pieces, file };
}

/** Middle distance of the samples of a piece [s]. */
function stepOf({ times }: Clock, { from, to }: Piece): number {
  return to - from > 1 ? (times[to - 1] - times[from]) / (to - from - 1) : 0.01;
}

function setBack(
  file: string,
  { from, to, moved, known }: { from: number; to: number; moved: number; known: boolean },
): Finding {
  return {
    kind: 'clock-set-back',
    weight: known ? 'note' : 'doubt',
    message: known
      ? 'the clock of this log was set back; what follows is placed by the other log'
      : 'the clock of this log was set back; how long the pause was is unknown, what follows is placed straight behind',
    place: { file, from, to },
    numbers: { moved },
  };
}

function leftOut(file: string, share: number): Finding {
  return {
    kind: 'samples-not-covered',
    weight: 'note',
    message: 'samples of the engine log outside the roller log are left out',
    place: { file },
    numbers: { share },
  };
}
