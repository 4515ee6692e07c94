export interface SavitzkyGolayInput {
  /** m: the filter has 2m + 1 coefficients, m ≥ 1. */
  readonly halfWidth: number;
  /** Degree of the local polynomial, 0 … 2m. */
  readonly order: number;
  /** 0 smoothing, 1 slope, 2 second derivative …, at most `order`; default 0. */
  readonly derivative?: number;
}

/**
 * Coefficients of the least-squares polynomial filter on 2m + 1 equally spaced points [1/spacing^derivative].
 *
 *     result at the middle = Σ c[j + m]·y[j],   j = −m … m
 *
 * Built from discrete orthogonal polynomials, stable for wide filters and high orders.
 *
 * @valid   equally spaced samples without gaps; for anything else use the local quadratic
 * @source  Savitzky & Golay, Anal. Chem. 36 (1964) 1627; recurrence as in Gorry, Anal. Chem. 62 (1990) 570
 */
export function savitzkyGolay(input: SavitzkyGolayInput): Float64Array {
  const { halfWidth: m, order, derivative = 0 } = input;
  if (!Number.isInteger(m) || m < 1) throw new RangeError(`invalid half width: ${m}, expected a whole number ≥ 1`);
  if (!Number.isInteger(order) || order < 0 || order > 2 * m) throw new RangeError(`invalid order: ${order}`);
  if (!Number.isInteger(derivative) || derivative < 0) throw new RangeError(`invalid derivative: ${derivative}`);
  const size = 2 * m + 1;
  const coefficients = new Float64Array(size);
  // polynomials on x = j/m; middle[d] is the d-th derivative of the polynomial at x = 0
  let previous = new Float64Array(size);
  let current = new Float64Array(size).fill(1);
  let middleBefore = new Float64Array(derivative + 1);
  let middle = new Float64Array(derivative + 1);
  middle[0] = 1;
  let normBefore = 1;
  for (let k = 0; k <= order; k++) {
    const norm = current.reduce((sum, p) => sum + p * p, 0);
    for (let j = 0; j < size; j++) coefficients[j] += (current[j] * middle[derivative]) / norm;
    const ratio = k === 0 ? 0 : norm / normBefore;
    const next = current.map((p, j) => ((j - m) / m) * p - ratio * previous[j]);
    const nextMiddle = middle.map((_, d) => (d === 0 ? 0 : d * middle[d - 1]) - ratio * middleBefore[d]);
    [previous, current, middleBefore, middle, normBefore] = [current, next, middle, nextMiddle, norm];
  }
  return coefficients.map((c) => c / m ** derivative);
}
