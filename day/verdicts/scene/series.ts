import { indexAtOrAfter, localQuadratic, median } from '../../../core/numerics/index.ts';

/** A signal on equally spaced times [s]; values as long as times. */
export interface Series {
  readonly times: Float64Array;
  readonly values: Float64Array;
}

/** Smoothed to a −3 dB frequency [Hz]; gaps stay gaps. The value itself where the rate is too low to smooth. */
export function smooth({ times, values }: Series, bandwidth: number): Float64Array {
  if (times.length < 8 || bandwidth > 0.2 / (times[1] - times[0])) return values;
  return localQuadratic({ times, samples: values, pieces: finiteRuns(values), bandwidth }).value;
}

/** Slope [unit/s] at a −3 dB frequency [Hz]. */
export function slope({ times, values }: Series, bandwidth: number): Float64Array {
  const highest = Math.min(bandwidth, 0.2 / (times[1] - times[0]));
  return localQuadratic({ times, samples: values, pieces: finiteRuns(values), bandwidth: highest }).slope;
}

/** What is left between two −3 dB frequencies [Hz]. */
export function band(series: Series, low: number, high: number): Float64Array {
  const upper = smooth(series, high);
  const lower = smooth(series, low);
  return upper.map((value, i) => value - lower[i]);
}

/** Stretches without a missing value, for whatever must not look across a gap. */
function finiteRuns(values: Float64Array): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  let start = -1;
  for (let i = 0; i <= values.length; i++) {
    const finite = i < values.length && Number.isFinite(values[i]);
    if (finite && start < 0) start = i;
    if (!finite && start >= 0) {
      runs.push({ from: start, to: i });
      start = -1;
    }
  }
  return runs;
}

/** For each time the quantile of the finite values within ±half [s]; NaN when fewer than half of them are there. */
export function runningQuantile({ times, values }: Series, half: number, probability: number): Float64Array {
  const step = times.length > 1 ? times[1] - times[0] : 1;
  const reach = Math.max(0, Math.round(half / step));
  const near = new Float64Array(2 * reach + 2);
  let count = 0;
  const result = new Float64Array(values.length).fill(Number.NaN);
  for (let i = -reach; i < values.length; i++) {
    const [entering, leaving] = [values[i + reach], values[i - reach - 1]];
    if (Number.isFinite(entering)) {
      const at = indexAtOrAfter(near, { from: 0, to: count }, entering);
      near.copyWithin(at + 1, at, count);
      near[at] = entering;
      count += 1;
    }
    if (Number.isFinite(leaving)) {
      const at = indexAtOrAfter(near, { from: 0, to: count }, leaving);
      near.copyWithin(at, at + 1, count);
      count -= 1;
    }
    if (i >= 0 && count >= Math.max(1, reach)) result[i] = near[Math.min(count - 1, Math.floor(probability * count))];
  }
  return result;
}

/** Root mean square within ±half [s] around each time; NaN when fewer than half of the values are there. */
export function runningDeviation({ times, values }: Series, half: number): Float64Array {
  const step = times.length > 1 ? times[1] - times[0] : 1;
  const reach = Math.max(1, Math.round(half / step));
  const sums = new Float64Array(values.length + 1);
  const counts = new Float64Array(values.length + 1);
  values.forEach((value, i) => {
    const finite = Number.isFinite(value);
    sums[i + 1] = sums[i] + (finite ? value * value : 0);
    counts[i + 1] = counts[i] + (finite ? 1 : 0);
  });
  return values.map((_, i) => {
    const from = Math.max(0, i - reach);
    const to = Math.min(values.length, i + reach + 1);
    const count = counts[to] - counts[from];
    return count > reach ? Math.sqrt((sums[to] - sums[from]) / count) : Number.NaN;
  });
}

/** The finite values; [] when there are none. */
export function finite(values: ArrayLike<number>): number[] {
  const known: number[] = [];
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i])) known.push(values[i]);
  return known;
}

/** Middle of the finite values; NaN when there are none. */
export function middle(values: ArrayLike<number>): number {
  const known = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) if (Number.isFinite(values[i])) known[count++] = values[i];
  return median(known.subarray(0, count), 'skip');
}

/** Mean of the finite values; NaN when there are none. */
export function mean(values: ArrayLike<number>): number {
  const known = finite(values);
  return known.reduce((sum, value) => sum + value, 0) / known.length;
}

/** Largest finite value; −∞ when there is none. */
export function largest(values: ArrayLike<number>): number {
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) if (values[i] > top && Number.isFinite(values[i])) top = values[i];
  return top;
}

/** One alternation about zero: time of its crest [s] and its size with sign. */
export interface Swing {
  readonly time: number;
  readonly size: number;
}

/** Crests between crossings of zero of a band-passed series, in order. */
export function swingsOf({ times, values }: Series): Swing[] {
  const swings: Swing[] = [];
  let crest: Swing | undefined;
  for (let i = 0; i < values.length; i++) {
    const size = values[i];
    if (!Number.isFinite(size)) {
      if (crest) swings.push(crest);
      crest = undefined;
      continue;
    }
    if (crest && Math.sign(size) !== Math.sign(crest.size) && size !== 0) {
      swings.push(crest);
      crest = { time: times[i], size };
    } else if (!crest || Math.abs(size) > Math.abs(crest.size)) crest = { time: times[i], size };
  }
  return crest ? [...swings, crest] : swings;
}

/** Longest run of neighbouring swings that are all larger than a size and evenly spaced: half periods within ±45 % of their middle. */
export function steadySwings(swings: readonly Swing[], size: number): readonly Swing[] {
  let best: readonly Swing[] = [];
  let run: Swing[] = [];
  for (const swing of swings) {
    if (Math.abs(swing.size) < size) run = [];
    else {
      run = [...run, swing];
      while (run.length > 2 && !evenly(run)) run = run.slice(1);
    }
    if (run.length > best.length) best = run;
  }
  return best;
}

function evenly(run: readonly Swing[]): boolean {
  const spacings = run.slice(1).map((swing, i) => swing.time - run[i].time);
  const typical = middle(spacings);
  return spacings.every((spacing) => Math.abs(spacing - typical) <= 0.45 * typical);
}

/** Smallest change from one value to the next that is not zero: the step that values are written in. */
export function smallestStep(raw: Float64Array): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < raw.length; i++) {
    const step = Math.abs(raw[i] - raw[i - 1]);
    if (step > 0 && step < smallest) smallest = step;
  }
  return smallest;
}
