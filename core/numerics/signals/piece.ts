/** Half-open range [from, to) of sample indices without a gap inside. Times are strictly increasing within it. */
export interface Piece {
  readonly from: number;
  readonly to: number;
}

/**
 * Largest index k in [from, to) with times[k] ≤ t, or from − 1 when all are later. Binary search, O(log n).
 *
 * @param times [s] increasing inside the piece @param piece range to search @param t [s]
 */
export function indexAtOrBefore(times: Float64Array, piece: Piece, t: number): number {
  let low = piece.from - 1;
  let high = piece.to;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] <= t) low = middle;
    else high = middle;
  }
  return low;
}

/** Smallest index k in [from, to) with sorted[k] ≥ value, or `to` when all are smaller. @param sorted not falling inside the piece, complete */
export function indexAtOrAfter(sorted: Float64Array, piece: Piece, value: number): number {
  let low = piece.from;
  let high = piece.to;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * A search for the piece whose time span holds a time, ends included; undefined in a gap. Where clocks overlap the earlier piece
 * of the list wins. O(log pieces) while the pieces follow one another in time, else O(pieces).
 */
export function pieceFinder(times: Float64Array, pieces: readonly Piece[]): (t: number) => Piece | undefined {
  const filled = pieces.filter(({ from, to }) => to > from);
  const holds = (piece: Piece, t: number): boolean => times[piece.from] <= t && t <= times[piece.to - 1];
  const ordered = filled.every((piece, i) => i === 0 || times[filled[i - 1].to - 1] < times[piece.from]);
  if (!ordered) return (t) => filled.find((piece) => holds(piece, t));
  return (t) => {
    let low = -1;
    let high = filled.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (times[filled[middle].from] <= t) low = middle;
      else high = middle;
    }
    return low >= 0 && holds(filled[low], t) ? filled[low] : undefined;
  };
}
