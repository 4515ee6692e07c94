import type { Channel, Piece, Recording } from '../channel.ts';
import type { Meaning } from '../meanings.ts';

/**
 * One channel as it was really renewed: staircase repeats and missing samples are left out.
 * pieces: index ranges without a gap. groups: pieces between which the clock runs on believably; a jump back or a long
 * pause starts a new one. period: middle distance of the samples [s].
 */
export interface Signal {
  readonly name: string;
  readonly meaning: Meaning;
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly pieces: readonly SignalPiece[];
  readonly period: number;
}

export interface SignalPiece extends Piece {
  readonly group: number;
}

/** A pause longer than this is not taken to be a dropout of a clock that ran on [s]. @source our default */
export const LONG_PAUSE = 20;

/** A signal that changes less than this over the record [1] cannot carry an alignment. @source our default */
export const LEAST_CHANGE = 0.05;

/**
 * The first channel, in the order of the meanings asked for, that holds enough measurements; undefined when none does. Of several of one meaning the first that
 * changes: a wheel beside the rollers stands still.
 */
export function signalOf(recording: Recording, meanings: readonly Meaning[]): Signal | undefined {
  for (const meaning of meanings) {
    const candidates = recording.channels.filter((channel) => channel.meaning === meaning && isOwnValue(channel));
    const signals = candidates
      .map((channel) => signalFrom(recording, channel))
      .filter(({ times }) => times.length >= 8);
    if (signals.length > 0) return signals.find((signal) => changeOf(signal) >= LEAST_CHANGE) ?? signals[0];
  }
  return undefined;
}

/** How much a signal changes, without its outermost 2 %, over its largest magnitude [1]; NaN where it is always 0. */
export function changeOf({ values }: Signal): number {
  const sorted = values.slice().sort();
  const low = sorted[Math.floor(0.02 * (sorted.length - 1))];
  const high = sorted[Math.ceil(0.98 * (sorted.length - 1))];
  return (high - low) / Math.max(Math.abs(low), Math.abs(high));
}

/** One channel of a recording as {@link Signal}. */
export function signalFrom(recording: Recording, channel: Channel): Signal {
  const { clock } = recording;
  const times: number[] = [];
  const values: number[] = [];
  const ranges: Piece[] = [];
  for (const piece of clock.pieces) {
    const from = times.length;
    const hold = holdTime(channel, clock.times, piece);
    let lastTime = Number.NEGATIVE_INFINITY;
    let lastValue = Number.NaN;
    for (let i = piece.from; i < piece.to; i++) {
      const value = channel.samples[i];
      if (channel.mask[i] !== 0 || !Number.isFinite(value)) continue;
      if (hold > 0 && value === lastValue && clock.times[i] - lastTime < hold) continue;
      lastTime = clock.times[i];
      lastValue = value;
      times.push(lastTime);
      values.push(value);
    }
    if (times.length > from) ranges.push({ from, to: times.length });
  }
  const kept = Float64Array.from(times);
  return {
    name: channel.name,
    meaning: channel.meaning,
    times: kept,
    values: Float64Array.from(values),
    pieces: grouped(kept, ranges),
    period: middlePeriod(kept, ranges),
  };
}

function isOwnValue(channel: Channel): boolean {
  return channel.origin !== 'derived' && channel.origin !== 'commanded';
}

/** How long an unchanged value counts as a repeat of the last renewal [s]; 0 where the channel is renewed at every sample. */
function holdTime(channel: Channel, times: Float64Array, piece: Piece): number {
  const count = piece.to - piece.from;
  if (count < 3 || !(channel.refreshRate > 0)) return 0;
  const rate = (count - 1) / (times[piece.to - 1] - times[piece.from]);
  return channel.refreshRate < 0.7 * rate ? 0.95 / channel.refreshRate : 0;
}

function grouped(times: Float64Array, ranges: readonly Piece[]): SignalPiece[] {
  let group = 0;
  return ranges.map((range, i) => {
    if (i > 0) {
      const pause = times[range.from] - times[ranges[i - 1].to - 1];
      if (pause <= 0 || pause > LONG_PAUSE) group++;
    }
    return { ...range, group };
  });
}

function middlePeriod(times: Float64Array, ranges: readonly Piece[]): number {
  const steps: number[] = [];
  for (const range of ranges) for (let i = range.from + 1; i < range.to; i++) steps.push(times[i] - times[i - 1]);
  if (steps.length === 0) return Number.NaN;
  return Float64Array.from(steps).sort()[steps.length >> 1];
}
