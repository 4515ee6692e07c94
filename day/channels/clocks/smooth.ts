import type { Signal } from './signal.ts';

/** Value and slope at even knots; NaN where a knot has too few samples around it. piece, group: as in the signal. */
export interface SmoothPiece {
  readonly start: number;
  readonly end: number;
  readonly step: number;
  readonly values: Float64Array;
  readonly slopes: Float64Array;
  readonly group: number;
}

/**
 * A signal seen through a symmetric window: local straight line, triangular weight of half width `halfWidth` [s], so it has
 * no lag of its own. Both clocks get the same window, so that what it bends is bent alike on both sides.
 *
 * @source  local linear regression: Fan & Gijbels, Local Polynomial Modelling (1996), ch. 2
 */
export function smoothed(signal: Signal, halfWidth: number): SmoothPiece[] {
  return signal.pieces.map((piece) => {
    const start = signal.times[piece.from];
    const end = signal.times[piece.to - 1];
    const count = Math.max(2, Math.floor((end - start) / (halfWidth / 2)) + 1);
    const step = end > start ? (end - start) / (count - 1) : 1;
    const values = new Float64Array(count).fill(Number.NaN);
    const slopes = new Float64Array(count).fill(Number.NaN);
    let low = piece.from;
    for (let k = 0; k < count; k++) {
      const centre = start + k * step;
      while (low < piece.to && signal.times[low] <= centre - halfWidth) low++;
      const line = localLine(signal, { low, to: piece.to, centre, halfWidth });
      values[k] = line.value;
      slopes[k] = line.slope;
    }
    return { start, end, step, values, slopes, group: piece.group };
  });
}

/** Value and slope at one time. */
export interface PointOfCurve {
  value: number;
  slope: number;
}

/** Cubic through the knots of the piece that holds t; NaN outside every piece. Written into `out`. */
export function curveInto(out: PointOfCurve, pieces: readonly SmoothPiece[], t: number): void {
  out.value = Number.NaN;
  out.slope = Number.NaN;
  for (const piece of pieces) {
    if (t < piece.start || t > piece.end) continue;
    const k = Math.min(piece.values.length - 2, Math.floor((t - piece.start) / piece.step));
    const u = (t - piece.start) / piece.step - k;
    const y0 = piece.values[k];
    const y1 = piece.values[k + 1];
    const m0 = piece.slopes[k] * piece.step;
    const m1 = piece.slopes[k + 1] * piece.step;
    const bend = 2 * (y0 - y1) + m0 + m1;
    const turn = 3 * (y1 - y0) - 2 * m0 - m1;
    out.value = y0 + u * (m0 + u * (turn + u * bend));
    out.slope = (m0 + u * (2 * turn + 3 * u * bend)) / piece.step;
    return;
  }
}

function localLine(
  signal: Signal,
  { low, to, centre, halfWidth }: { low: number; to: number; centre: number; halfWidth: number },
): PointOfCurve {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let t0 = 0;
  let t1 = 0;
  let count = 0;
  for (let i = low; i < to; i++) {
    const d = signal.times[i] - centre;
    if (d >= halfWidth) break;
    const w = 1 - Math.abs(d) / halfWidth;
    s0 += w;
    s1 += w * d;
    s2 += w * d * d;
    t0 += w * signal.values[i];
    t1 += w * d * signal.values[i];
    count++;
  }
  const spread = s0 * s2 - s1 * s1;
  if (count < 2 || !(spread > 1e-9 * s0 * s0 * halfWidth * halfWidth)) return { value: Number.NaN, slope: Number.NaN };
  const slope = (s0 * t1 - s1 * t0) / spread;
  return { value: (t0 - slope * s1) / s0, slope };
}
