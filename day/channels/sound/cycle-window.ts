import type { CyclePhase } from './cycle-phase.ts';
import type { Sound } from './sound.ts';

/**
 * Samples of one window that is so many working cycles long, as seen from the crank.
 * cycles: place of each sample from the middle of the window [1]. tracks: samples × weight, freed of their mean; as long as `cycles`.
 * from, to: times of the ends [s].
 */
export interface CycleWindow {
  readonly cycles: Float64Array;
  readonly tracks: readonly Float64Array[];
  readonly from: number;
  readonly to: number;
}

export interface WindowInput {
  readonly sound: Sound;
  readonly phase: CyclePhase;
  /** Middle [s]. */
  readonly time: number;
  /** Length [cycles]. */
  readonly length: number;
}

/**
 * The window around a time; undefined where it reaches over the ends of the sound or the cycle rate is not known in all of it.
 *
 * Hann window over the crank's angle, and each sample counts for the angle it covers: a constant order is one line however fast the engine speeds up.
 *
 * @source order analysis by integration over the angle, common practice
 */
export function cycleWindow({ sound, phase, time, length }: WindowInput): CycleWindow | undefined {
  const middle = phase.at(time);
  const ends = [-1, 1].map((side) => reached({ phase, time, middle, by: (side * length) / 2 }));
  const [from, to] = ends;
  const last = sound.tracks[0].length - 1;
  const first = Math.ceil(from * sound.rate);
  const count = Math.floor(to * sound.rate) - first + 1;
  if (!(count > 8) || first < 0 || first + count - 1 > last) return undefined;
  const cycles = new Float64Array(count);
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const t = (first + i) / sound.rate;
    cycles[i] = phase.at(t) - middle;
    weights[i] = (0.5 + 0.5 * Math.cos((2 * Math.PI * cycles[i]) / length)) * phase.rate(t);
  }
  if (cycles.some(Number.isNaN)) return undefined;
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const tracks = sound.tracks.map((track) => {
    let mean = 0;
    for (let i = 0; i < count; i++) mean += weights[i] * track[first + i];
    mean /= total;
    return weights.map((weight, i) => ((track[first + i] - mean) * weight * 2) / total);
  });
  return { cycles, tracks, from, to };
}

interface Reach {
  readonly phase: CyclePhase;
  readonly time: number;
  readonly middle: number;
  readonly by: number;
}

/** The time at which `by` cycles have passed since the middle; NaN when it is not known. Newton's steps: the phase is smooth and always grows. */
function reached({ phase, time, middle, by }: Reach): number {
  let t = time + by / phase.rate(time);
  for (let step = 0; step < 20; step++) {
    const move = (middle + by - phase.at(t)) / phase.rate(t);
    t += move;
    if (Number.isNaN(t) || Math.abs(move) < 1e-7) break;
  }
  return t;
}
