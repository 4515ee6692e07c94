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

/** The first piece whose time span holds t, ends included; undefined in a gap. Where clocks overlap the earlier piece wins. */
export function pieceAt(times: Float64Array, pieces: readonly Piece[], t: number): Piece | undefined {
  return pieces.find((piece) => piece.to > piece.from && times[piece.from] <= t && t <= times[piece.to - 1]);
}
