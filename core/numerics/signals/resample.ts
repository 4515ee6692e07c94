import { indexAtOrBefore, type Piece, pieceFinder } from './piece.ts';

export interface ResampleInput {
  /** [s], strictly increasing inside each piece. */
  readonly times: Float64Array;
  /** As long as `times`, NaN = missing. */
  readonly samples: Float64Array;
  readonly pieces: readonly Piece[];
  /** Wanted times [s], any order. */
  readonly at: Float64Array;
}

/**
 * Samples by straight lines between neighbours [unit of samples], as long as `at`.
 *
 * NaN outside every piece, between pieces, and where one of the two neighbours is missing: nothing is drawn across a gap.
 * Exactly on a sample time it is that sample. Where the time spans of two pieces overlap, the earlier piece answers.
 *
 * @source  linear interpolation; the rule for gaps is our default
 */
export function resample(input: ResampleInput): Float64Array {
  const { times, samples, pieces, at } = input;
  if (times.length !== samples.length) throw new RangeError('times and samples of unequal length');
  const result = new Float64Array(at.length).fill(Number.NaN);
  const pieceAt = pieceFinder(times, pieces);
  for (let i = 0; i < at.length; i++) {
    const t = at[i];
    const piece = pieceAt(t);
    if (!piece) continue;
    const k = indexAtOrBefore(times, piece, t);
    if (times[k] === t) {
      result[i] = samples[k];
      continue;
    }
    const share = (t - times[k]) / (times[k + 1] - times[k]);
    result[i] = samples[k] + share * (samples[k + 1] - samples[k]);
  }
  return result;
}
