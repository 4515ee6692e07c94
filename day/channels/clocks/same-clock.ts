import type { Alignment } from '../alignment.ts';
import type { Recording } from '../channel.ts';

/** Alignment of a recording with itself: one clock, nothing to find. One piece per stretch without a gap. */
export function sameClock({ clock }: Recording): Alignment {
  const pieces = clock.pieces
    .filter((piece) => piece.to > piece.from)
    .map((piece) => ({
      from: clock.times[piece.from],
      to: clock.times[piece.to - 1],
      offset: 0,
      rate: 0,
      offsetUncertainty: 0,
      rateUncertainty: 0,
      residual: 0,
      lags: [],
    }));
  return { clock: clock.name, other: clock.name, pieces, correlation: 1, second: undefined, by: 'same clock' };
}
