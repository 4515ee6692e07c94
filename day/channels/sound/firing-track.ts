import { bestPath } from '../../../core/numerics/index.ts';
import { type FiringScores, firingScores, PER_OCTAVE, type ScoreInput, standOut } from './firing-score.ts';

/**
 * Firing frequency over time as heard [Hz], before refinement. All as long as `times` [s].
 * score: how much it looks like a firing frequency. margin: by how much it leads the best other course; both as means over ±0.5 s [1].
 * confidence: how often such a score and margin were right in our trials [1].
 * multiple: 1, or what the best course was multiplied with because it followed the weak cylinder instead of the firings.
 */
export interface FiringTrack {
  readonly times: Float64Array;
  readonly frequency: Float64Array;
  readonly score: Float64Array;
  readonly margin: Float64Array;
  readonly confidence: Float64Array;
  readonly multiple: number;
}

export interface TrackInput extends ScoreInput {
  /** Firings per working cycle: which multiples a weak cylinder can hide; 1 when unknown. */
  readonly firing: number;
}

/** Fastest change that is followed: candidates per frame, and what a change costs per candidate². @source our default: 2.5 octaves per second at 20 frames per second */
const REACH = 8;
const COST = 0.15;
/** Candidates on both sides of the best course that are no other course. @source our default: ±4 % */
const SAME = 4;
/** Candidates at both ends of the range that are not believed. @source our default: 2 % */
const EDGE = 2;
/** [s] @source our default */
const AROUND = 0.5;
const BLOCKED = -1000;
/** A course is multiplied when every so-many-th harmonic stands out by this [dB] and the multiplied course scores this share of the best. @source our default, from seeded trials with one dead cylinder */
const STANDS_OUT = 5.5;
const STILL_SCORES = 0.4;

/** The course of the firing frequency that is best over the whole sound, and how far it leads any other. */
export function firingTrack(input: TrackInput): FiringTrack {
  const scores = firingScores(input);
  const { times, rows, frequencies } = scores;
  const found = bestPath({ scores: rows, reach: REACH, cost: COST });
  const { states: moved, multiple } = multiplied(found.states, scores, input);
  const states = multiple === 1 ? moved : within(rows, moved);
  // the course of a weak cylinder that was multiplied is no rival
  const isSame = (i: number, k: number): boolean =>
    Math.abs(k - states[i]) <= SAME || (multiple > 1 && Math.abs(k - found.states[i]) <= SAME);
  const others = rows.map((row, i) => row.map((value, k) => (isSame(i, k) ? BLOCKED : value)));
  const second = bestPath({ scores: others, reach: REACH, cost: COST });
  const own = scoresAlong(scores, states);
  const other = scoresAlong(scores, second.states);
  const score = around(times, own);
  const lead = own.map((value, i) => value - Math.max(0, other[i]));
  const margin = around(times, lead);
  return {
    times,
    frequency: Float64Array.from(states, (state) => frequencies[state]),
    score,
    margin,
    confidence: score.map((value, i) => (isInside(states[i], frequencies.length) ? confidenceOf(value, margin[i]) : 0)),
    multiple,
  };
}

/** The best course that stays near another one: windows of the multiple are shorter and follow better. */
function within(rows: readonly Float64Array[], course: Int32Array): Int32Array {
  const near = rows.map((row, i) => row.map((value, k) => (Math.abs(k - course[i]) <= REACH ? value : BLOCKED)));
  return bestPath({ scores: near, reach: REACH, cost: COST }).states;
}

/** The course, or a multiple of it when it followed a weak cylinder. */
function multiplied(
  states: Int32Array,
  scores: FiringScores,
  input: TrackInput,
): { readonly states: Int32Array; readonly multiple: number } {
  const { frequencies } = scores;
  const own = mean(scoresAlong(scores, states));
  const course = Float64Array.from(states, (state) => frequencies[state]);
  let best = { states, multiple: 1, out: STANDS_OUT };
  for (let m = 2; m <= input.firing; m++) {
    if (input.firing % m !== 0) continue;
    const moved = states.map((state) => state + Math.round(PER_OCTAVE * Math.log2(m)));
    if (moved.some((state) => state >= frequencies.length)) continue;
    const out = standOut(input, course, m);
    if (out > best.out && mean(scoresAlong(scores, moved)) >= STILL_SCORES * own)
      best = { states: moved, multiple: m, out };
  }
  return best;
}

/** A course at the end of the range may belong to a speed outside it. */
function isInside(state: number, count: number): boolean {
  return state >= EDGE && state < count - EDGE;
}

/** @source our default: logistic fit to seeded trials with invented engines, see docs/physics/sound.md */
function confidenceOf(score: number, margin: number): number {
  if (!(score > 0)) return 0;
  const x = LOGIT.constant + LOGIT.score * Math.log(score) + LOGIT.lead * Math.max(-1, margin / score);
  return 1 / (1 + Math.exp(-x));
}

const LOGIT = { constant: 0.1, score: 1.05, lead: 1 } as const;

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}

function scoresAlong({ rows }: FiringScores, states: Int32Array): Float64Array {
  return Float64Array.from(states, (state, i) => rows[i][state]);
}

/** Mean over ±{@link AROUND}, as long as `values`. */
function around(times: Float64Array, values: Float64Array): Float64Array {
  const half = times.length > 1 ? Math.round(AROUND / (times[1] - times[0])) : 0;
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i] + values[i];
  return values.map((_, i) => {
    const from = Math.max(0, i - half);
    const to = Math.min(values.length, i + half + 1);
    return (sums[to] - sums[from]) / (to - from);
  });
}
