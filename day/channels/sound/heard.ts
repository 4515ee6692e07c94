import { resample } from '../../../core/numerics/index.ts';
import { REVOLUTION } from '../../../core/quantities/index.ts';
import type { Piece } from '../channel.ts';
import { type FiringTrack, firingTrack } from './firing-track.ts';
import { type Orders, refinedRates } from './refine.ts';
import type { Sound } from './sound.ts';

/** Engine speed on the sound's own clock: times [s], values [rad/s], as long as one another; nothing is read across a gap between pieces. */
export interface SpeedTrack {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly pieces?: readonly Piece[];
}

export interface HearInput {
  readonly sound: Sound;
  /** Frames [s], equally spaced. */
  readonly times: Float64Array;
  /** Firings per cycle, and revolutions per cycle. */
  readonly firing: number;
  readonly turns: number;
  /** Slowest and fastest engine speed [rad/s]. */
  readonly range: { readonly from: number; readonly to: number };
  /** Speed from a log that was laid on the sound; without it the sound must tell. */
  readonly speed?: SpeedTrack | undefined;
}

/**
 * Working cycles per second, frame by frame. All as long as the frames.
 * rates: [Hz], NaN where unknown. deviation: relative standard uncertainty [1]. confidence: that it is this course and no other [1]; 1 with a given speed.
 * multiples: what courses were multiplied with, see {@link FiringTrack}.
 */
export interface Heard {
  readonly rates: Float64Array;
  readonly deviation: Float64Array;
  readonly confidence: Float64Array;
  readonly orders: Orders;
  readonly multiples: readonly number[];
}

/** Below this a course is not believed [1]. @source our default: noise alone stays below in our trials */
export const LEAST_CONFIDENCE = 0.7;
/** Firing orders that are used where the sound's rate allows it. @source our default: higher ones are smeared by the engine's own unsteadiness */
const MOST_HARMONICS = 3;
/** Windows are at least so many cycles and so many firings long. @source our default: four bins from order to order with lines three bins wide */
const LEAST_CYCLES = 8;
const LEAST_FIRINGS = 16;
/** Orders are used up to this share of the rate: above it sound folds. */
const USABLE = 0.4;
/** Search around a speed that was heard, and around one that was logged [1]. @source our default: steps of 1.1 % between candidates; a logged speed within 1.5 % */
const AROUND_HEARD = [0.03, 0.008];
const AROUND_LOGGED = [0.015, 0.008];
/** Where the lines were too weak to refine it, a course is known to its steps [1]. */
const COARSE_DEVIATION = 0.006;
/** Frames that are followed in one go: 10 minutes. @source our default, bounds the memory */
const TOGETHER = 12_000;

/** The course of the cycle rate: from the given speed or from the sound itself, then made exact by the firing orders. */
export function hear(input: HearInput): Heard {
  const { sound, times, firing, speed } = input;
  const known = speed ? logged(input, speed) : followed(input);
  const usable = (USABLE * sound.rate) / (1.5 * firing);
  const believed = known.rates.map((rate, i) =>
    known.confidence[i] >= LEAST_CONFIDENCE && rate <= usable ? rate : Number.NaN,
  );
  const fastest = believed.filter((rate) => !Number.isNaN(rate)).reduce((most, rate) => Math.max(most, rate), 0);
  const room = fastest > 0 ? Math.floor((USABLE * sound.rate) / (fastest * firing) - 0.5) : 1;
  const orders = {
    firing,
    harmonics: Math.min(MOST_HARMONICS, Math.max(1, room)),
    length: Math.max(LEAST_CYCLES, Math.ceil(LEAST_FIRINGS / firing)),
  };
  const refined = refinedRates({ sound, times, rates: believed, orders, ranges: speed ? AROUND_LOGGED : AROUND_HEARD });
  const rest = speed ? Number.NaN : COARSE_DEVIATION;
  return {
    rates: refined.rates,
    deviation: refined.deviation.map((value, i) =>
      Number.isNaN(refined.rates[i]) ? Number.NaN : Number.isNaN(value) ? rest : value,
    ),
    confidence: known.confidence,
    orders,
    multiples: known.multiples,
  };
}

type Known = Pick<Heard, 'rates' | 'confidence' | 'multiples'>;

function logged({ times, turns }: HearInput, speed: SpeedTrack): Known {
  const values = resample({
    times: speed.times,
    samples: speed.values,
    pieces: speed.pieces ?? [{ from: 0, to: speed.times.length }],
    at: times,
  });
  const rates = values.map((value) => (value > 0 ? value / REVOLUTION / turns : Number.NaN));
  return { rates, confidence: rates.map((rate) => (Number.isNaN(rate) ? 0 : 1)), multiples: [] };
}

function followed({ sound, times, firing, turns, range }: HearInput): Known {
  const perSpeed = firing / turns / REVOLUTION;
  const wanted = { from: range.from * perSpeed, to: Math.min(range.to * perSpeed, 0.35 * sound.rate) };
  const tracks: FiringTrack[] = [];
  for (let from = 0; from < times.length; from += TOGETHER) {
    tracks.push(firingTrack({ sound, range: wanted, times: times.subarray(from, from + TOGETHER), firing }));
  }
  const joined = (part: (track: FiringTrack) => Float64Array): Float64Array =>
    Float64Array.from(tracks.flatMap((track) => [...part(track)]));
  return {
    rates: joined(({ frequency }) => frequency.map((f) => f / firing)),
    confidence: joined(({ confidence }) => confidence),
    multiples: [...new Set(tracks.map(({ multiple }) => multiple))].filter((multiple) => multiple > 1),
  };
}
