import type { Place } from '../../../core/quantities/index.ts';
import type { Alignment } from '../../../day/channels/index.ts';

interface Window {
  readonly from: number;
  readonly to: number;
}

/**
 * True when the window of a place may meet a stretch of the record [s on the record's clock]. A place does not say on which of the two
 * clocks it is, so it is tried on both. A place without a window meets everything.
 */
export function mayMeet(place: Place | undefined, stretch: Window, alignment: Alignment | undefined): boolean {
  if (place?.from === undefined) return true;
  const [one, two] = [place.from, place.to ?? place.from];
  const own = { from: Math.min(one, two), to: Math.max(one, two) };
  const pieces = alignment && alignment.by !== 'same clock' ? alignment.pieces : [];
  const moved = pieces.map(({ offset, rate }) => ({
    from: (own.from - offset) / (1 + rate),
    to: (own.to - offset) / (1 + rate),
  }));
  return [own, ...moved].some(({ from, to }) => from <= stretch.to && to >= stretch.from);
}
