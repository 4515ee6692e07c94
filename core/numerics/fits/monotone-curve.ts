/** A curve through points that never overshoots them. `slopes`: as long as `x`. */
export interface MonotoneCurve {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly slopes: Float64Array;
}

/**
 * Curve through points by piecewise cubics that keep the monotone stretches of the data monotone.
 *
 * Inner slopes are the weighted harmonic mean of the neighbouring chords, zero where the data turns.
 *
 * @param x strictly rising, at least two, finite; else it throws
 * @param y as long as `x`, finite
 * @source  Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, with Brodlie's weights; end slopes: Moler, Numerical Computing, 3.6
 */
export function monotoneCurve(x: Float64Array, y: Float64Array): MonotoneCurve {
  const n = x.length;
  if (n < 2 || y.length !== n)
    throw new RangeError(`expected at least two points and equal lengths: ${n}, ${y.length}`);
  for (let i = 1; i < n; i++) if (!(x[i] > x[i - 1])) throw new RangeError(`x does not rise at index ${i}`);
  const chord = (i: number): number => (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  const slopes = new Float64Array(n).fill(chord(0));
  for (let i = 1; i < n - 1; i++) {
    const before = { width: x[i] - x[i - 1], chord: chord(i - 1) };
    const after = { width: x[i + 1] - x[i], chord: chord(i) };
    const w1 = 2 * after.width + before.width;
    const w2 = after.width + 2 * before.width;
    slopes[i] = before.chord * after.chord > 0 ? (w1 + w2) / (w1 / before.chord + w2 / after.chord) : 0;
  }
  if (n > 2) {
    slopes[0] = endSlope({ near: chord(0), next: chord(1), nearWidth: x[1] - x[0], nextWidth: x[2] - x[1] });
    slopes[n - 1] = endSlope({
      near: chord(n - 2),
      next: chord(n - 3),
      nearWidth: x[n - 1] - x[n - 2],
      nextWidth: x[n - 2] - x[n - 3],
    });
  }
  return { x, y, slopes };
}

/** Value of the curve at x [unit of y]; NaN outside its points. */
export function curveValue({ x, y, slopes }: MonotoneCurve, at: number): number {
  const last = x.length - 1;
  if (!(at >= x[0] && at <= x[last])) return Number.NaN;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x[middle] <= at) low = middle;
    else high = middle;
  }
  const h = x[low + 1] - x[low];
  const t = (at - x[low]) / h;
  const s = 1 - t;
  return (
    y[low] * (1 + 2 * t) * s * s +
    slopes[low] * h * t * s * s +
    y[low + 1] * (3 - 2 * t) * t * t -
    slopes[low + 1] * h * t * t * s
  );
}

interface End {
  readonly near: number;
  readonly next: number;
  readonly nearWidth: number;
  readonly nextWidth: number;
}

function endSlope({ near, next, nearWidth, nextWidth }: End): number {
  const slope = ((2 * nearWidth + nextWidth) * near - nearWidth * next) / (nearWidth + nextWidth);
  if (slope * near <= 0) return 0;
  return near * next <= 0 && Math.abs(slope) > 3 * Math.abs(near) ? 3 * near : slope;
}
