import { cyclePhase } from './cycle-phase.ts';
import { type CycleWindow, cycleWindow } from './cycle-window.ts';
import { linePowers } from './order-lines.ts';
import type { Sound } from './sound.ts';

/** What order analysis must know of the engine. firing: firings per working cycle; harmonics: firing orders that are used, ≥ 1; length: of a window [cycles]. */
export interface Orders {
  readonly firing: number;
  readonly harmonics: number;
  readonly length: number;
}

export interface RefineInput {
  readonly sound: Sound;
  /** Frames [s], equally spaced. */
  readonly times: Float64Array;
  /** Cycles per second as known so far [Hz], as long as `times`; NaN where unknown. */
  readonly rates: Float64Array;
  readonly orders: Orders;
  /** Relative half width of the search of each round [1]. */
  readonly ranges: readonly number[];
}

/** rates: cycles per second [Hz]. deviation: relative standard uncertainty [1], NaN where the lines were too weak to say more than was known. Both as long as the frames. */
export interface Refined {
  readonly rates: Float64Array;
  readonly deviation: Float64Array;
}

/** Lines must stand so far above what lies between them: sum over the firing orders of power over noise [1]. @source our default: noise alone stays below in 99.9 % of frames with three orders */
const LEAST_SUM = 25;
/** The curvature of the sum takes the sound for steady lines in white noise; a Hann window and an engine's own unsteadiness cost this factor. @source our default, from seeded trials in docs/physics/sound.md */
const UNSTEADY = 1.5;
/** A speed is not known better than this [1]: a window gives a mean, and the sound comes a few ms late. @source our default, from seeded trials with a speed that swings by 0.3 % three times a second */
const FLOOR = 1e-3;

/**
 * Cycle rate made exact by the firing orders themselves: each frame's window is turned into the crank's angle with the rate known so far, and the
 * small relative error that puts most power on the firing orders is taken away. Rounds follow one another with narrower searches.
 *
 * @valid   the rate known so far is within the first range
 * @source  maximum likelihood for lines in noise of known level: Rife & Boorstyn, IEEE Trans. Inf. Theory 20 (1974) 591
 */
export function refinedRates({ sound, times, rates, orders, ranges }: RefineInput): Refined {
  let current = evened(rates);
  let deviation = new Float64Array(times.length).fill(Number.NaN);
  for (const range of ranges) {
    const phase = cyclePhase(times, current);
    const found = Array.from(times, (time, i) => {
      if (Number.isNaN(current[i])) return undefined;
      const window = cycleWindow({ sound, phase, time, length: orders.length });
      return window && relativeError(window, orders, range);
    });
    const smooth = smoothed(found);
    current = evened(current.map((rate, i) => rate * (1 + smooth[i])));
    deviation = Float64Array.from(found, (error) => error?.deviation ?? Number.NaN);
  }
  return { rates: current, deviation };
}

interface RelativeError {
  readonly value: number;
  readonly deviation: number;
}

function relativeError(
  window: CycleWindow,
  { firing, harmonics, length }: Orders,
  range: number,
): RelativeError | undefined {
  const step = 0.25 / (harmonics * firing * length);
  const half = Math.ceil(range / step);
  const sums = new Float64Array(2 * half + 1);
  for (let h = 1; h <= harmonics; h++) {
    const order = h * firing;
    const noise = noiseBeside(window, order, length);
    if (!(noise > 0)) continue;
    const powers = linePowers(window, { first: order * (1 - half * step), step: order * step, count: sums.length });
    for (let i = 0; i < sums.length; i++) sums[i] += powers[i] / noise;
  }
  let top = 0;
  for (let i = 1; i < sums.length; i++) if (sums[i] > sums[top]) top = i;
  if (top === 0 || top === sums.length - 1 || sums[top] < LEAST_SUM) return undefined;
  const [before, peak, after] = [sums[top - 1], sums[top], sums[top + 1]];
  const bend = (2 * peak - before - after) / step ** 2;
  if (!(bend > 0)) return undefined;
  const value = (top - half) * step + (after - before) / (2 * step * bend);
  return { value, deviation: Math.hypot(UNSTEADY / Math.sqrt(bend), FLOOR) };
}

/** Mean power near the middle between whole orders on both sides. */
function noiseBeside(window: CycleWindow, order: number, length: number): number {
  const bin = 1 / length;
  const sides = [-0.5, 0.5].map((side) => linePowers(window, { first: order + side - bin, step: bin, count: 3 }));
  return sides.reduce((sum, powers) => sum + powers[0] + powers[1] + powers[2], 0) / 6;
}

/** Mean over two frames on both sides, each by its certainty; 0 where none is known. Windows overlap by more than that. */
function smoothed(found: readonly (RelativeError | undefined)[]): Float64Array {
  return Float64Array.from(found, (_, i) => {
    let sum = 0;
    let weights = 0;
    for (let k = Math.max(0, i - 2); k <= Math.min(found.length - 1, i + 2); k++) {
      const error = found[k];
      if (!error) continue;
      const weight = 1 / error.deviation ** 2;
      sum += weight * error.value;
      weights += weight;
    }
    return weights > 0 ? sum / weights : 0;
  });
}

/** Frames on both sides over which the course of the rate is taken to be straight in pitch. @source our default: 0.2 s */
const STRAIGHT = 4;

/** The rate with its steps evened out by a straight line in pitch around each frame, nearer frames counting more; NaN stays and nothing is carried across it. */
function evened(rates: Float64Array): Float64Array {
  return rates.map((rate, i) => {
    if (Number.isNaN(rate)) return rate;
    let from = i;
    while (from > 0 && i - from < STRAIGHT && !Number.isNaN(rates[from - 1])) from--;
    let to = i;
    while (to < rates.length - 1 && to - i < STRAIGHT && !Number.isNaN(rates[to + 1])) to++;
    const sums = { w: 0, x: 0, y: 0, xx: 0, xy: 0 };
    for (let k = from; k <= to; k++) {
      const w = 1 - Math.abs(k - i) / (STRAIGHT + 1);
      const x = k - i;
      const y = Math.log(rates[k] / rate);
      sums.w += w;
      sums.x += w * x;
      sums.y += w * y;
      sums.xx += w * x * x;
      sums.xy += w * x * y;
    }
    const bent = sums.w * sums.xx - sums.x ** 2;
    return bent > 0 ? rate * Math.exp((sums.y * sums.xx - sums.x * sums.xy) / bent) : rate;
  });
}
