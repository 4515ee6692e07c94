import { indexAtOrBefore } from '../../../core/numerics/index.ts';
import type { Channel, Piece } from '../channel.ts';
import type { ClockedChannel } from './join.ts';

/**
 * Values of one track at other times, as long as `times` [unit of the channel]. Between two samples of one piece: a straight
 * line; channels that are renewed more slowly than they are logged, and those that count, keep their last value. NaN outside every piece,
 * in a gap, and beside a missing sample.
 *
 * @param times [s] on the record's clock; fastest when increasing
 */
export function sampleTrack(track: ClockedChannel, times: ArrayLike<number>): Float64Array {
  const { channel, pieces } = track;
  const values = new Float64Array(times.length).fill(Number.NaN);
  const holds = pieces.map((piece) => holdsLast(channel, track.times, piece));
  let p = 0;
  let i = 0;
  for (let k = 0; k < times.length; k++) {
    const t = times[k];
    if (!inPiece(track.times, pieces[p], t)) {
      p = pieces.findIndex((piece) => inPiece(track.times, piece, t));
      if (p < 0) {
        p = 0;
        continue;
      }
      i = pieces[p].from;
    }
    const piece = pieces[p];
    if (i < piece.from || i >= piece.to || track.times[i] > t) i = piece.from;
    if (i + 64 < piece.to && track.times[i + 64] <= t) i = indexAtOrBefore(track.times, piece, t);
    while (i + 1 < piece.to && track.times[i + 1] <= t) i++;
    values[k] = between(track, { i, last: piece.to - 1, t, holds: holds[p] });
  }
  return values;
}

function between(
  { channel, times }: ClockedChannel,
  { i, last, t, holds }: { i: number; last: number; t: number; holds: boolean },
): number {
  const a = channel.mask[i] === 0 ? channel.samples[i] : Number.NaN;
  if (holds || i === last || times[i] === t) return a;
  const b = channel.mask[i + 1] === 0 ? channel.samples[i + 1] : Number.NaN;
  return a + ((b - a) * (t - times[i])) / (times[i + 1] - times[i]);
}

function inPiece(times: Float64Array, piece: Piece | undefined, t: number): boolean {
  return piece !== undefined && piece.to > piece.from && times[piece.from] <= t && t <= times[piece.to - 1];
}

/** Renewed at less than 70 % of its sample rate, or a count that has no values in between. @source our default */
function holdsLast(channel: Channel, times: Float64Array, { from, to }: Piece): boolean {
  if (channel.kind === 'count') return true;
  const span = to - from > 1 ? times[to - 1] - times[from] : 0;
  return span > 0 && channel.refreshRate > 0 && channel.refreshRate < (0.7 * (to - from - 1)) / span;
}
