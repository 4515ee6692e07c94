import { type Piece, sampleTrack } from '../../channels/index.ts';
import type { Track } from '../record.ts';
import { usableSamples } from '../rolls/find-track.ts';

/** When a slowly renewed channel really was renewed, and how it moved there. All as long as `times`. */
export interface Renewals {
  readonly times: Float64Array;
  readonly values: Float64Array;
  /** How far the value still moves within half a renewal, as a share of it [1]. */
  readonly moved: Float64Array;
  /** How fast it changes as a share of itself [1/s]. */
  readonly rate: Float64Array;
  readonly pieces: readonly Piece[];
}

/** Renewals further apart than this many usual intervals have a gap between them. @source our default */
const GAP_PERIODS = 4;

/** Shortest time over which a rate of change is taken, to either side [s]: shorter ones see noise. @source our default */
const RATE_REACH = 0.25;

/** The instants at which a held value changes. A value that stays for several of its usual intervals is taken as renewed, unchanged. */
export function renewals(track: Track): Renewals {
  const samples = usableSamples(track);
  const period = 1 / Math.max(track.channel.refreshRate, 1e-3);
  const times: number[] = [];
  const values: number[] = [];
  for (let i = 0; i < samples.length; i++) {
    if (!Number.isFinite(samples[i])) continue;
    const changed = values.length === 0 || samples[i] !== values[values.length - 1];
    if (!changed && track.times[i] - times[times.length - 1] < 1.5 * period) continue;
    times.push(track.times[i]);
    values.push(samples[i]);
  }
  const moved = values.map((value, i) => {
    const before = values[Math.max(0, i - 1)];
    const after = values[Math.min(values.length - 1, i + 1)];
    return Math.abs(after - before) / Math.abs(value) / 4 / Math.sqrt(3);
  });
  return {
    times: Float64Array.from(times),
    values: Float64Array.from(values),
    moved: Float64Array.from(moved),
    rate: relativeRates(times, values),
    pieces: piecesOf(times, GAP_PERIODS * period),
  };
}

function relativeRates(times: readonly number[], values: readonly number[]): Float64Array {
  let [first, last] = [0, 0];
  return Float64Array.from(values, (value, i) => {
    while (first + 1 < i && times[first + 1] <= times[i] - RATE_REACH) first++;
    last = Math.max(last, Math.min(i + 1, values.length - 1));
    while (last + 1 < values.length && times[last] < times[i] + RATE_REACH) last++;
    const time = times[last] - times[first];
    return time > 0 ? Math.abs((values[last] - values[first]) / time / value) : 0;
  });
}

function piecesOf(times: readonly number[], longest: number): readonly Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  for (let i = 1; i <= times.length; i++) {
    if (i < times.length && times[i] - times[i - 1] <= longest) continue;
    pieces.push({ from, to: i });
    from = i;
  }
  return pieces;
}

/** Values of a renewed channel at other times, and how it moved there. */
export type AtRenewals = Readonly<Record<'value' | 'moved' | 'rate', Float64Array>>;

/** A renewed channel between its renewals: linear, NaN across a gap. As long as `times`. */
export function interpolated(track: Track, times: Float64Array): AtRenewals {
  const { pieces, ...own } = renewals(track);
  const at = (samples: Float64Array): Float64Array => {
    const mask = new Uint8Array(samples.length);
    const channel = { ...track.channel, samples, mask, refreshRate: Number.POSITIVE_INFINITY };
    return sampleTrack({ channel, times: own.times, pieces, file: track.file }, times);
  };
  return { value: at(own.values), moved: at(own.moved), rate: at(own.rate) };
}
