import { resample } from '../../../core/numerics/index.ts';
import type { Meaning, Piece } from '../../channels/index.ts';
import type { JoinedRecord, Track } from '../../pulls/index.ts';

/**
 * One channel as a detector sees it: one value per renewal, so that a staircase has no treads.
 * values: NaN where the mask says that a sample is no measurement; raw: as logged. Both as long as `times` [s].
 * rate: renewals [Hz]. noise: what white noise would have to be to look like this between neighbours [unit of the channel].
 */
export interface SceneTrack {
  readonly meaning: Meaning;
  readonly position: string | undefined;
  readonly name: string;
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly raw: Float64Array;
  /** Why a value is no measurement, by the numbers of `REASONS`; 0 where it is one. As long as `times`. */
  readonly mask: Uint8Array;
  readonly pieces: readonly Piece[];
  readonly rate: number;
  readonly noise: number;
  /** A count or a status: no values in between. */
  readonly stepped: boolean;
}

/** Every measured or commanded channel of a record with at least one usable sample, fastest first within a meaning. */
export function sceneTracks(record: JoinedRecord, span: { readonly from: number; readonly to: number }): SceneTrack[] {
  return record.tracks
    .filter(({ channel }) => isSignal(channel) && hasValues(channel))
    .map((track) => renewed(track, span))
    .sort((a, b) => b.rate - a.rate);
}

/** Channels without a single usable sample, with what was logged: whoever looks for faults of channels must see them. */
export function unusableTracks(
  record: JoinedRecord,
  span: { readonly from: number; readonly to: number },
): SceneTrack[] {
  return record.tracks
    .filter(({ channel }) => isSignal(channel) && !hasValues(channel) && channel.samples.some(Number.isFinite))
    .map((track) => renewed(track, span));
}

function isSignal({ origin }: Track['channel']): boolean {
  return origin === 'measured' || origin === 'commanded';
}

function hasValues({ samples, mask }: Track['channel']): boolean {
  return samples.some((sample, i) => mask[i] === 0 && Number.isFinite(sample));
}

function renewed(track: Track, span: { readonly from: number; readonly to: number }): SceneTrack {
  const { channel } = track;
  const { kept, pieces } = renewals(track);
  const count = kept.length;
  const [times, raw] = [new Float64Array(count), new Float64Array(count)];
  const mask = new Uint8Array(count);
  const values = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const i = kept[k];
    times[k] = track.times[i];
    raw[k] = channel.samples[i];
    mask[k] = channel.mask[i];
    values[k] = mask[k] === 0 ? raw[k] : Number.NaN;
  }
  return {
    meaning: channel.meaning,
    position: channel.position,
    name: channel.name,
    ...{ times, raw, values, pieces, mask },
    rate: channel.refreshRate,
    noise: whiteNoise(times, values, span),
    stepped: channel.kind === 'count',
  };
}

/** Rows in which a channel was renewed, piece by piece; a count is renewed with every change. */
function renewals(track: Track): { readonly kept: Int32Array; readonly pieces: readonly Piece[] } {
  const { channel, times } = track;
  const { samples } = channel;
  const counts = channel.kind === 'count';
  const kept = new Int32Array(times.length);
  const pieces: Piece[] = [];
  let count = 0;
  for (const piece of track.pieces) {
    const start = count;
    const least = 0.98 / channel.refreshRate - rowStep(track, piece) / 2;
    let last = Number.NEGATIVE_INFINITY;
    for (let i = piece.from; i < piece.to; i++) {
      const changed = counts && i > piece.from && samples[i] !== samples[i - 1];
      if (times[i] - last < least && !changed) continue;
      kept[count++] = i;
      last = times[i];
    }
    if (count > start) pieces.push({ from: start, to: count });
  }
  return { kept: kept.subarray(0, count), pieces };
}

function rowStep({ times }: Track, { from, to }: Piece): number {
  return to - from > 1 ? (times[to - 1] - times[from]) / (to - from - 1) : 0;
}

/**
 * Standard deviation of white noise from second differences, robust against events; root mean square where most of them are zero.
 *
 * @source Var(x₋ − 2x + x₊) = 6σ² for white noise; median of magnitudes over 0.6745 for a normal distribution
 */
export function whiteNoise(
  times: Float64Array,
  values: Float64Array,
  { from, to }: { readonly from: number; readonly to: number },
): number {
  const magnitudes = new Float64Array(values.length);
  let count = 0;
  let squares = 0;
  for (let i = 1; i < values.length - 1; i++) {
    if (times[i] < from || times[i] > to) continue;
    const second = values[i - 1] - 2 * values[i] + values[i + 1];
    if (!Number.isFinite(second)) continue;
    magnitudes[count++] = Math.abs(second);
    squares += second * second;
  }
  if (count < 5) return 0;
  const middle = magnitudes.subarray(0, count).sort()[count >> 1];
  return (middle > 0 ? middle / 0.6745 : Math.sqrt(squares / count)) / Math.sqrt(6);
}

/**
 * A track at other times, as long as `at`. Where it is renewed more often than the wanted times, the mean around each; a count keeps its
 * last value; else a straight line between neighbours. NaN across gaps and beside missing values.
 *
 * @param at [s], equally spaced and increasing
 */
export function onTimes(track: SceneTrack, at: Float64Array): Float64Array {
  const step = at.length > 1 ? at[1] - at[0] : 1 / track.rate;
  if (track.stepped) return lastValues(track, at);
  if (track.rate * step < 1.5) {
    return resample({ times: track.times, samples: track.values, pieces: track.pieces, at });
  }
  return meansAround(track, at, step / 2);
}

function meansAround({ times, values, pieces }: SceneTrack, at: Float64Array, half: number): Float64Array {
  const sums = new Float64Array(at.length);
  const counts = new Float64Array(at.length);
  for (const { from, to } of pieces) {
    for (let i = from; i < to; i++) {
      const k = Math.round((times[i] - at[0]) / (2 * half));
      if (k < 0 || k >= at.length || !Number.isFinite(values[i])) continue;
      sums[k] += values[i];
      counts[k]++;
    }
  }
  return sums.map((sum, k) => (counts[k] > 0 ? sum / counts[k] : Number.NaN));
}

function lastValues({ times, raw, pieces, rate }: SceneTrack, at: Float64Array): Float64Array {
  const result = new Float64Array(at.length).fill(Number.NaN);
  for (const { from, to } of pieces) {
    let i = from;
    for (let k = 0; k < at.length; k++) {
      if (at[k] < times[from] || at[k] > times[to - 1] + 2 / rate) continue;
      while (i + 1 < to && times[i + 1] <= at[k]) i++;
      result[k] = raw[i];
    }
  }
  return result;
}

/** Usable values between two times, ends included. */
export function valuesBetween({ times, values }: SceneTrack, from: number, to: number): number[] {
  const found: number[] = [];
  for (let i = 0; i < times.length; i++) {
    if (times[i] >= from && times[i] <= to && Number.isFinite(values[i])) found.push(values[i]);
  }
  return found;
}
