/** One counted cycle. count: 1, or 0.5 for a half cycle. from, to: indices of the samples at its two ends. */
export interface LoadCycle {
  readonly range: number;
  readonly mean: number;
  readonly count: number;
  readonly from: number;
  readonly to: number;
}

/** gaps: missing stretches, each of which ends one count and begins another; nothing is counted across them. */
export interface CycleCount {
  readonly cycles: readonly LoadCycle[];
  readonly gaps: number;
}

/**
 * Cycles in a load history by rainflow counting.
 *
 * Works through the history once and keeps only open ranges: memory grows with the unclosed ones, not with the history.
 *
 * @param series any unit; NaN where missing
 * @valid   turning points are those of the samples: a peak between two samples is lost
 * @source  ASTM E1049-85 (reapproved), 5.4.4
 */
export function rainflow(series: ArrayLike<number>): CycleCount {
  const cycles: LoadCycle[] = [];
  let gaps = 0;
  let start = 0;
  for (let i = 0; i <= series.length; i++) {
    if (i < series.length && !Number.isNaN(series[i])) continue;
    if (i > start) countInto(cycles, series, { from: start, to: i });
    const gapEnds = i < series.length && (i + 1 === series.length || !Number.isNaN(series[i + 1]));
    if (gapEnds) gaps++;
    start = i + 1;
  }
  return { cycles, gaps };
}

/** Sum of counts per range, smallest range first. Ranges that differ by less than `width` fall together; 0 keeps each. */
export function countsByRange(
  cycles: readonly LoadCycle[],
  width = 0,
): readonly { readonly range: number; readonly count: number }[] {
  const sums = new Map<number, number>();
  for (const { range, count } of cycles) {
    const key = width > 0 ? (Math.floor(range / width) + 0.5) * width : range;
    sums.set(key, (sums.get(key) ?? 0) + count);
  }
  return [...sums].map(([range, count]) => ({ range, count })).sort((a, b) => a.range - b.range);
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

function countInto(cycles: LoadCycle[], series: ArrayLike<number>, stretch: Stretch): void {
  const open: number[] = [];
  const add = (a: number, b: number, count: number): void => {
    const [x, y] = [series[a], series[b]];
    cycles.push({ range: Math.abs(y - x), mean: (x + y) / 2, count, from: a, to: b });
  };
  for (const point of turningPoints(series, stretch)) {
    open.push(point);
    while (open.length >= 3) {
      const top = open.length;
      const [a, b, c] = [open[top - 3], open[top - 2], open[top - 1]];
      const latest = Math.abs(series[c] - series[b]);
      const before = Math.abs(series[b] - series[a]);
      if (latest < before) break;
      if (open.length === 3) {
        // the range before holds the start: half a cycle, and the start moves on
        add(a, b, 0.5);
        open.shift();
      } else {
        add(a, b, 1);
        open[top - 3] = c;
        open.length = top - 2;
      }
    }
  }
  for (let k = 1; k < open.length; k++) add(open[k - 1], open[k], 0.5);
}

/** Indices of first, last and all turning points; of a plateau its first sample. */
function* turningPoints(series: ArrayLike<number>, { from, to }: Stretch): Generator<number> {
  yield from;
  let last = from;
  let direction = 0;
  for (let i = from + 1; i < to; i++) {
    const step = Math.sign(series[i] - series[last]);
    if (step === 0) continue;
    if (direction !== 0 && step !== direction) yield last;
    direction = step;
    last = i;
  }
  if (last !== from) yield last;
}
