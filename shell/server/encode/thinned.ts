import { indexAtOrAfter } from '../../../core/numerics/index.ts';
import type { Piece } from '../../../day/channels/index.ts';

/** Times and values for drawing; null breaks the line. */
export interface Thinned {
  readonly times: number[];
  readonly values: (number | null)[];
}

export interface Window {
  readonly from: number;
  readonly to: number;
  /** About how many samples may come back, ≥ 2. */
  readonly points: number;
}

interface Samples {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly pieces: readonly Piece[];
}

/**
 * The samples inside a window of time, at most about `points` of them. When there are more, every stretch of equal sample count
 * hands on its lowest and its highest sample in the order of time, so a spike of one sample stays visible.
 * A missing sample and the step from one piece to the next become one null.
 */
export function thinned({ times, values, pieces }: Samples, { from, to, points }: Window): Thinned {
  const out: Thinned = { times: [], values: [] };
  const ranges = pieces.map((piece) => inside(times, piece, { from, to })).filter((range) => range.to > range.from);
  const count = ranges.reduce((sum, range) => sum + range.to - range.from, 0);
  const stride = Math.max(1, Math.ceil((2 * count) / points));
  for (const range of ranges) {
    const firstTime = times[range.from];
    const lastTime = out.times.at(-1);
    if (lastTime !== undefined && firstTime !== undefined) breakLine(out, (lastTime + firstTime) / 2);
    if (stride <= 2) addAll(out, { times, values }, range);
    else
      for (let at = range.from; at < range.to; at += stride)
        addExtremes(out, { times, values }, { from: at, to: Math.min(at + stride, range.to) });
  }
  return out;
}

/** The part of a piece whose times lie in the window, one sample wider on both sides so that the line reaches the edge. */
function inside(times: Float64Array, piece: Piece, { from, to }: { from: number; to: number }): Piece {
  const first = indexAtOrAfter(times, piece, from);
  const last = indexAtOrAfter(times, piece, to);
  return { from: Math.max(piece.from, first - 1), to: Math.min(piece.to, last + 1) };
}

function addAll(out: Thinned, { times, values }: Omit<Samples, 'pieces'>, { from, to }: Piece): void {
  for (let at = from; at < to; at += 1) add(out, times[at], values[at]);
}

function addExtremes(out: Thinned, { times, values }: Omit<Samples, 'pieces'>, { from, to }: Piece): void {
  let low = -1;
  let high = -1;
  let missing = -1;
  for (let at = from; at < to; at += 1) {
    const value = values[at] ?? Number.NaN;
    if (Number.isNaN(value)) missing = at;
    else {
      if (low < 0 || value < (values[low] ?? value)) low = at;
      if (high < 0 || value > (values[high] ?? value)) high = at;
    }
  }
  const kept = [...new Set([low, high, missing])].filter((at) => at >= 0).sort((one, other) => one - other);
  for (const at of kept) add(out, times[at], values[at]);
}

function add(out: Thinned, time: number | undefined, value: number | undefined): void {
  if (time === undefined || !Number.isFinite(time)) return;
  if (value === undefined || !Number.isFinite(value)) breakLine(out, time);
  else {
    out.times.push(time);
    out.values.push(value);
  }
}

/** One null is enough for any number of missing samples in a row. */
function breakLine(out: Thinned, time: number): void {
  if (out.values.length > 0 && out.values.at(-1) === null) return;
  out.times.push(time);
  out.values.push(null);
}
