import { type FourierPlan, fourierPlan, fourierTransformInto } from '../../../core/numerics/index.ts';
import type { Sound } from './sound.ts';

/** Frequencies that could be the firing frequency [Hz], equally spaced in pitch, and how much each looks like it per frame [1]. */
export interface FiringScores {
  readonly frequencies: Float64Array;
  readonly times: Float64Array;
  /** One row per time, as long as `frequencies`. */
  readonly rows: readonly Float64Array[];
}

export interface ScoreInput {
  readonly sound: Sound;
  /** Slowest and fastest firing frequency [Hz]. */
  readonly range: { readonly from: number; readonly to: number };
  /** [s] */
  readonly times: Float64Array;
}

/** Candidates per octave: 1.1 % apart. @source our default */
export const PER_OCTAVE = 64;
/** Firing periods in one window: what lies half a firing frequency away is clear of the main lobe. @source our default */
const PERIODS = 16;
/** Harmonics of a candidate that are looked at, and what the next one counts for of the one before. @source common practice, no source: weights that fall with the order keep a candidate from losing to half of itself */
const HARMONICS = 5;
const FADING = 0.8;
/** Places between two harmonics that must be quiet, as parts of the candidate, and what each counts for: they hold the harmonics of a half, a third, a quarter of it. @source our default */
const BETWEEN = [
  [1 / 2, 0.5],
  [1 / 3, 0.25],
  [2 / 3, 0.25],
  [1 / 4, 0.25],
  [3 / 4, 0.25],
] as const;
/** A line counts for at most so much of its surroundings' amplitude [1], so that one hum does not decide alone. @source our default; 30 and 200 did as well in seeded trials */
const CEILING = 60;
/** Heights are those of a window this long [s]: in a longer one a line stands higher over noise, which would favour slow candidates. */
const REFERENCE = 0.2;

/**
 * How much each candidate looks like the firing frequency, frame by frame [1].
 *
 *     s(f) = Σ w_h·(L(h·f) − ½·L((h − ½)·f) − ¼·(L((h − ⅓)·f) + L((h − ⅔)·f) + L((h − ¼)·f) + L((h − ¾)·f))) / Σ w_h       h = 1 … 5, w_h = 0.8^(h−1)
 *
 * L is the amplitude over that of its surroundings within an octave, less 1, 0 … 60, so that loudness and colour of the sound do not matter. Twice the firing
 * frequency loses by what lies between its harmonics, half of it by the harmonics that are missing. Window: 16 firing periods of each candidate.
 *
 * @source idea of harmonic against subharmonic sums: Hermes, J. Acoust. Soc. Am. 83 (1988) 257, from memory; form, weights and limits are ours
 */
export function firingScores({ sound, range, times }: ScoreInput): FiringScores {
  const count = Math.max(1, Math.floor(PER_OCTAVE * Math.log2(range.to / range.from)) + 1);
  const frequencies = Float64Array.from({ length: count }, (_, k) => range.from * 2 ** (k / PER_OCTAVE));
  const sizes = Int32Array.from(frequencies, (f) => windowSize(sound, f));
  const lookers = new Map([...new Set(sizes)].map((size) => [size, looker(sound, size)]));
  const rows = Array.from(times, (time) => {
    const seen = new Map([...lookers].map(([size, look]) => [size, look(time)]));
    return frequencies.map((f, k) => {
      const levels = seen.get(sizes[k]);
      return levels ? score(levels, (f * 2 * sizes[k]) / sound.rate) : 0;
    });
  });
  return { frequencies, times, rows };
}

/**
 * By how much every m-th harmonic of a course stands above the harmonics beside it [dB], mean over the frames; −∞ where there are none to compare.
 * Far above 0 says that the course is an m-th of the firing frequency: one cylinder in m is weak in every cycle and has filled in the rest.
 *
 * @param course candidate per frame [Hz], as long as `times` @param multiple m ≥ 2
 */
export function standOut({ sound, times }: Omit<ScoreInput, 'range'>, course: Float64Array, multiple: number): number {
  const lookers = new Map<number, (time: number) => Float64Array>();
  let sum = 0;
  let count = 0;
  for (let i = 0; i < times.length; i++) {
    const size = windowSize(sound, course[i]);
    const look = lookers.get(size) ?? looker(sound, size);
    lookers.set(size, look);
    const levels = look(times[i]);
    const bin = (course[i] * 2 * size) / sound.rate;
    for (let h = multiple; h <= 3 * multiple && (h + 1) * bin < levels.length - 1; h += multiple) {
      const decibels = (order: number): number => 20 * Math.log10(1 + at(levels, order * bin));
      sum += decibels(h) - (decibels(h - 1) + decibels(h + 1)) / 2;
      count++;
    }
  }
  return count === 0 ? Number.NEGATIVE_INFINITY : sum / count;
}

function windowSize(sound: Sound, frequency: number): number {
  return 2 ** Math.round(Math.log2((PERIODS * sound.rate) / frequency));
}

/** @param levels heights over the surroundings, per bin @param bin of the candidate, not whole */
function score(levels: Float64Array, bin: number): number {
  let sum = 0;
  let weights = 0;
  let weight = 1;
  for (let h = 1; h <= HARMONICS && h * bin < levels.length - 1; h++, weight *= FADING) {
    let between = 0;
    for (const [part, share] of BETWEEN) between += share * at(levels, (h - part) * bin);
    sum += weight * (at(levels, h * bin) - between);
    weights += weight;
  }
  return weights === 0 ? 0 : sum / weights;
}

function at(levels: Float64Array, bin: number): number {
  const low = Math.floor(bin);
  return levels[low] + (bin - low) * (levels[low + 1] - levels[low]);
}

/** Levels around one time with one window size; a window that reaches over the ends of the sound goes on with silence. */
function looker(sound: Sound, size: number): (time: number) => Float64Array {
  const plan = fourierPlan(2 * size);
  const window = Float64Array.from({ length: size }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size));
  // up to 0.4 of the rate nothing is folded
  const bins = Math.floor(0.4 * 2 * size);
  return (time) => {
    const power = new Float64Array(bins);
    const start = Math.round(time * sound.rate) - size / 2;
    for (const track of sound.tracks) addPower(power, { track, start, window, plan });
    const gain = Math.sqrt((REFERENCE * sound.rate) / size);
    return aboveSurroundings(power).map((height) => Math.min(CEILING, height * gain));
  };
}

interface Windowed {
  readonly track: Float64Array;
  readonly start: number;
  readonly window: Float64Array;
  readonly plan: FourierPlan;
}

function addPower(power: Float64Array, { track, start, window, plan }: Windowed): void {
  const re = new Float64Array(plan.size);
  const im = new Float64Array(plan.size);
  const from = Math.max(0, -start);
  const to = Math.min(window.length, track.length - start);
  let mean = 0;
  for (let i = from; i < to; i++) mean += track[start + i];
  mean /= Math.max(1, to - from);
  for (let i = from; i < to; i++) re[i] = (track[start + i] - mean) * window[i];
  fourierTransformInto({ re, im }, plan);
  for (let k = 0; k < power.length; k++) power[k] += re[k] ** 2 + im[k] ** 2;
}

/** Height of each bin over its surroundings, as amplitudes, less 1 and at least 0 [1]. */
function aboveSurroundings(power: Float64Array): Float64Array {
  const level = power.map((value) => 10 * Math.log10(value + 1e-20));
  const first = octaveMeans(level);
  // lines, and their width in short windows, must not count as their own surroundings
  const second = octaveMeans(level.map((value, k) => Math.min(value, first[k] + 3)));
  const third = octaveMeans(level.map((value, k) => Math.min(value, second[k] + 3)));
  return level.map((value, k) => Math.max(0, 10 ** ((value - third[k]) / 20) - 1));
}

/** Mean over half an octave on both sides of each bin; infinite where that is less than four bins. */
function octaveMeans(level: Float64Array): Float64Array {
  const sums = new Float64Array(level.length + 1);
  for (let k = 0; k < level.length; k++) sums[k + 1] = sums[k] + level[k];
  return level.map((_, k) => {
    const from = Math.max(1, Math.floor(k * Math.SQRT1_2));
    const to = Math.min(level.length, Math.ceil(k * Math.SQRT2) + 1);
    return to - from < 4 ? Number.POSITIVE_INFINITY : (sums[to] - sums[from]) / (to - from);
  });
}
