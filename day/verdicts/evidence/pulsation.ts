import { backwardSolution, cholesky, forwardSolution } from '../../../core/numerics/index.ts';
import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, speedsAt } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import { type SceneTrack, whiteNoise } from '../scene/track.ts';

/** Orders of the firing frequency that are taken out. @source our default: the first and its double hold most of it */
const ORDERS = [1, 2] as const;
/** What moves more slowly than over ± so long is not looked at; so many readings at least [s]. @source our default */
const SLOW = { half: 0.12, readings: 2 } as const;
/** Amplitude and phase may change from knot to knot; spacing [s] and the readings a spacing holds at least. @source our default */
const KNOTS = { spacing: 2, readings: 24 } as const;
/** Readings this many deviations off count as if they were only so far. @source common practice, no source */
const ASTRAY = 4;
/** Share by which a fit is drawn towards none at all: where the firings stand still in the readings nothing can be told [1]. @source our default */
const RIDGE = 0.02;
/** It is taken out when what it explains passes what chance would by this factor. @source F-test, far beyond its 0.1 % point for tens of values */
const BEYOND_CHANCE = 4;
/** The phase of the firings is followed at this rate [Hz]. @source our default */
const PHASE_RATE = 100;
/** Tip-in and lift-off stay out of the fit [s]. @source our default */
const AFTER_START = 0.3;
const BEFORE_END = 0.05;

/**
 * A pressure without the pulsation that keeps step with the firings, as long as `track`. A log that is slower than the firings shows that pulsation as a
 * slow swing or as noise; with the crank's angle known from the engine speed it is told from both.
 *
 *     p(t) = slow + Σ (aₖ·sin kφ + bₖ·cos kφ)     φ: angle of the firings; aₖ, bₖ: straight between knots
 *
 * The same track where cylinders or engine speed are not known, or no such pulsation shows.
 *
 * @source least squares on known phase, as in order tracking: common practice, no source; what is slow is taken off both sides alike
 */
export const withoutPulsation: (scene: PullScene, track: SceneTrack) => SceneTrack = kept((scene, track) => {
  const phase = firingsOf(scene);
  const found = phase && pulsationIn(scene, track, phase);
  if (!found) return track;
  const values = Float64Array.from(track.values);
  found.wave.forEach((value, k) => {
    values[found.first + k] -= value;
  });
  return { ...track, values, noise: whiteNoise(track.times, values, scene) };
});

/** Angle of the firings on equal times of the pull [rad]. */
interface Firings {
  readonly start: number;
  readonly angle: Float64Array;
}

const firingsOf: (scene: PullScene) => Firings | undefined = keptOf((scene) => {
  const { cylinders, strokesPerCycle = 4 } = scene.facts.engine;
  if (!cylinders) return undefined;
  const times = gridOf(scene, PHASE_RATE);
  const speeds = speedsAt(scene, times);
  const perTurn = (2 * cylinders) / strokesPerCycle;
  const angle = new Float64Array(times.length);
  let last = speeds.find(Number.isFinite) ?? Number.NaN;
  for (let i = 1; i < times.length; i++) {
    const now = Number.isFinite(speeds[i]) ? speeds[i] : last;
    angle[i] = angle[i - 1] + (perTurn * (last + now)) / 2 / PHASE_RATE;
    last = now;
  }
  return Number.isFinite(angle[angle.length - 1]) ? { start: times[0], angle } : undefined;
});

/** The pulsation of the readings from `first` on; undefined when none shows. */
function pulsationIn(
  scene: PullScene,
  { times, values, rate }: SceneTrack,
  firings: Firings,
): { readonly first: number; readonly wave: Float64Array } | undefined {
  const first = times.findIndex((time) => time >= scene.from);
  const beyond = times.findIndex((time) => time > scene.to);
  const size = (beyond < 0 ? times.length : beyond) - first;
  const spacing = Math.max(KNOTS.spacing, KNOTS.readings / rate);
  const knots = Math.max(2, Math.round((scene.to - scene.from) / spacing) + 1);
  const terms = 2 * ORDERS.length;
  if (first < 0 || size < 3 * knots * terms) return undefined;
  const own = times.subarray(first, first + size);
  const waves = wavesAt(own, firings);
  const reach = Math.max(SLOW.readings, Math.round(SLOW.half * rate));
  const quick = waves.map((wave) => quickOf(wave, reach));
  const moving = quickOf(values.subarray(first, first + size), reach);
  const inside = own.map((time) => (time >= scene.from + AFTER_START && time <= scene.to - BEFORE_END ? 1 : 0));
  const limit = (ASTRAY * middle(moving.filter((_, i) => inside[i] === 1).map(Math.abs))) / 0.6745;
  const wanted = moving.map((value, i) => (inside[i] === 1 ? Math.max(-limit, Math.min(limit, value)) : Number.NaN));
  const place = own.map((time) => ((time - scene.from) / (scene.to - scene.from)) * (knots - 1));
  const sums = fitted({ wanted, quick, place, knots });
  if (!sums) return undefined;
  const whole = waveOf(quick, place, sums);
  let [left, all, count] = [0, 0, 0];
  wanted.forEach((value, i) => {
    if (Number.isNaN(value)) return;
    left += (value - whole[i]) ** 2;
    all += value ** 2;
    count += 1;
  });
  const free = count - knots * terms;
  if (!((all - left) / (knots * terms) > (BEYOND_CHANCE * left) / free)) return undefined;
  return { first, wave: waveOf(waves, place, sums) };
}

/** Sine and cosine of every order at times [s]. */
function wavesAt(times: Float64Array, { start, angle }: Firings): readonly Float64Array[] {
  const at = times.map((time) => {
    const place = Math.max(0, Math.min(angle.length - 1.000001, (time - start) * PHASE_RATE));
    const k = Math.floor(place);
    return angle[k] + (place - k) * (angle[k + 1] - angle[k]);
  });
  return ORDERS.flatMap((order) => [at.map((phi) => Math.sin(order * phi)), at.map((phi) => Math.cos(order * phi))]);
}

/** A series less its mean over ±reach readings, the mean taken twice so that nothing rings; missing stays missing. */
function quickOf(values: Float64Array, reach: number): Float64Array {
  const slow = meanAround(meanAround(values, reach), reach);
  return values.map((value, i) => value - slow[i]);
}

function meanAround(values: Float64Array, reach: number): Float64Array {
  let [sum, count, from, to] = [0, 0, 0, 0];
  return values.map((_, i) => {
    for (; to < Math.min(values.length, i + reach + 1); to++) {
      if (!Number.isFinite(values[to])) continue;
      sum += values[to];
      count += 1;
    }
    for (; from < i - reach; from++) {
      if (!Number.isFinite(values[from])) continue;
      sum -= values[from];
      count -= 1;
    }
    return count > 0 ? sum / count : Number.NaN;
  });
}

interface Fitting {
  readonly wanted: Float64Array;
  readonly quick: readonly Float64Array[];
  /** Place among the knots, 0 … knots − 1. */
  readonly place: Float64Array;
  readonly knots: number;
}

/** Amplitudes of the waves at the knots, knot by knot; undefined when nothing can be told. */
function fitted({ wanted, quick, place, knots }: Fitting): Float64Array | undefined {
  const terms = quick.length;
  const size = knots * terms;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const row = new Float64Array(2 * terms);
  let count = 0;
  for (let i = 0; i < wanted.length; i++) {
    if (!Number.isFinite(wanted[i])) continue;
    const knot = Math.min(knots - 2, Math.floor(place[i]));
    const share = place[i] - knot;
    for (let k = 0; k < terms; k++) {
      row[k] = (1 - share) * quick[k][i];
      row[terms + k] = share * quick[k][i];
    }
    const base = knot * terms;
    for (let a = 0; a < row.length; a++) {
      right[base + a] += row[a] * wanted[i];
      for (let b = 0; b <= a; b++) matrix[(base + a) * size + base + b] += row[a] * row[b];
    }
    count += 1;
  }
  for (let k = 0; k < size; k++) matrix[k * size + k] += (RIDGE * count) / (2 * knots) + 1e-9;
  const lower = cholesky(matrix, size);
  return lower && backwardSolution(lower, forwardSolution(lower, right));
}

function waveOf(waves: readonly Float64Array[], place: Float64Array, sums: Float64Array): Float64Array {
  const terms = waves.length;
  const knots = sums.length / terms;
  return place.map((at, i) => {
    const knot = Math.max(0, Math.min(knots - 2, Math.floor(at)));
    const share = at - knot;
    return waves.reduce(
      (sum, wave, k) => sum + wave[i] * ((1 - share) * sums[knot * terms + k] + share * sums[(knot + 1) * terms + k]),
      0,
    );
  });
}
