import type { Piece } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import type { PullSources } from './signals.ts';

type Sources = Omit<PullSources, 'forceZero'>;

/**
 * The sources cut off at both ends of the pull: what comes after lift-off is another motion, and smoothed across the border it would
 * show as power that was never made.
 */
export function withinPull(sources: Sources): Sources {
  const { side, segment, engine } = sources;
  const pieces = insidePieces(side.pieces, segment);
  const spans = pieces.map(({ from, to }) => ({ from: side.times[from], to: side.times[to - 1] }));
  return {
    ...sources,
    side: { ...side, pieces },
    engine: engine && { ...engine, pieces: spans.flatMap((span) => piecesDuring(engine, span)) },
  };
}

/** The parts of a track's pieces that lie between two times. Times only rise inside a piece; a clock may jump back between two. */
function piecesDuring({ times, pieces }: Track, span: { from: number; to: number }): readonly Piece[] {
  return pieces.flatMap(({ from, to }) => {
    let first = from;
    while (first < to && times[first] < span.from) first++;
    let last = first;
    while (last < to && times[last] <= span.to) last++;
    return last - first >= 2 ? [{ from: first, to: last }] : [];
  });
}

/** Pieces cut down to a range of indices; parts of fewer than two are left out. */
export function insidePieces(pieces: readonly Piece[], range: Piece): readonly Piece[] {
  return pieces
    .map(({ from, to }) => ({ from: Math.max(from, range.from), to: Math.min(to, range.to) }))
    .filter(({ from, to }) => to - from >= 2);
}
