import type { Finding, QuantityKind } from '../../core/quantities/index.ts';
import type { Meaning } from './meanings.ts';

/** Why a sample is missing or must not be used. 0 means the sample is a measurement. */
export const REASONS = {
  measured: 0,
  empty: 1,
  unreadable: 2,
  spike: 3,
  dropout: 4,
  saturated: 5,
  stuck: 6,
  repeated: 7,
  outOfRange: 8,
  gap: 9,
  excluded: 10,
} as const;

export type Reason = keyof typeof REASONS;

/**
 * The time base that the channels of one recording share.
 * times: s, as long as the samples, strictly increasing inside each piece.
 * pieces: sample ranges [from, to) without a gap or a jump inside; nothing is interpolated or integrated from one piece to the next.
 */
export interface Clock {
  readonly name: string;
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  /** Time of day, or whatever else the writer's own clock counts, at which `times` is 0; absent where there is no clock. */
  readonly started?: Started;
}

/** A stamp: time of day [s], and the step in which it is written [s]; 0 where the times themselves were written on that clock. */
export interface Started {
  readonly value: number;
  readonly resolution: number;
}

/** Half-open range of sample indices. */
export interface Piece {
  readonly from: number;
  readonly to: number;
}

/**
 * One quantity over time, in SI. Samples are as long as the clock's times; missing is NaN here and a reason in the mask.
 * refreshRate: how often the value is really renewed [Hz]; lower than the sample rate for a staircase channel.
 * origin: measured = the sensor's own value; smoothed, corrected, derived = already worked on, never used as a measurement.
 */
export interface Channel {
  readonly name: string;
  readonly meaning: Meaning;
  readonly kind: QuantityKind;
  /** Which of several alike: `bank A`, `cylinder 3`, `driven left`. */
  readonly position?: string;
  readonly samples: Float64Array;
  readonly mask: Uint8Array;
  readonly refreshRate: number;
  readonly origin: 'measured' | 'smoothed' | 'corrected' | 'derived' | 'commanded';
}

/** One file as values: a clock, its channels, and what must be known about them. */
export interface Recording {
  /** SHA-256 of the raw bytes, hex. */
  readonly source: string;
  readonly file: string;
  readonly clock: Clock;
  readonly channels: readonly Channel[];
  readonly findings: readonly Finding[];
}
