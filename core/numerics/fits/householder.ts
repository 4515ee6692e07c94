/** rows × columns numbers, row after row. */
export interface Matrix {
  readonly rows: number;
  readonly columns: number;
  readonly values: Float64Array;
}

/**
 * A = Q·R by Householder reflections, columns scaled to unit length first.
 * reflectors: as A, the vectors below and on the diagonal; upper: R, columns × columns; scales: length of each column of A;
 * rank: number of columns that are independent to working precision.
 */
export interface HouseholderQr {
  readonly rows: number;
  readonly columns: number;
  readonly reflectors: Float64Array;
  readonly upper: Float64Array;
  readonly scales: Float64Array;
  readonly rank: number;
}

/**
 * Decomposition of a tall matrix for least squares. Scaling makes the answer independent of the units of the columns.
 *
 * @param matrix rows ≥ columns; not changed
 * @source  Golub & Van Loan, Matrix Computations, 4th ed., algorithm 5.2.1
 */
export function householderQr(matrix: Matrix): HouseholderQr {
  const { rows: m, columns: n } = matrix;
  if (matrix.values.length !== m * n || m < n) throw new RangeError(`invalid matrix: ${m} × ${n}`);
  const a = matrix.values.slice();
  const scales = new Float64Array(n);
  const upper = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    scales[k] = columnLength(a, { n, k, from: 0, to: m }) || 1;
    for (let i = 0; i < m; i++) a[i * n + k] /= scales[k];
  }
  let rank = 0;
  for (let k = 0; k < n; k++) {
    const length = columnLength(a, { n, k, from: k, to: m });
    const alpha = a[k * n + k] > 0 ? -length : length;
    upper[k * n + k] = alpha;
    if (length > m * Number.EPSILON) rank++;
    if (length === 0) continue;
    a[k * n + k] -= alpha;
    let square = 0;
    for (let i = k; i < m; i++) square += a[i * n + k] ** 2;
    for (let j = k + 1; j < n; j++) {
      let dot = 0;
      for (let i = k; i < m; i++) dot += a[i * n + k] * a[i * n + j];
      for (let i = k; i < m; i++) a[i * n + j] -= (2 * dot * a[i * n + k]) / square;
      upper[k * n + j] = a[k * n + j];
    }
  }
  return { rows: m, columns: n, reflectors: a, upper, scales, rank };
}

/**
 * x that minimises |A·x − b|; NaN throughout when the columns are dependent.
 *
 * @param b as long as A has rows
 */
export function leastSquaresSolution(qr: HouseholderQr, b: ArrayLike<number>): Float64Array {
  const { rows: m, columns: n, reflectors: a, upper, scales } = qr;
  if (b.length !== m) throw new RangeError(`right side is ${b.length} long, expected ${m}`);
  const x = new Float64Array(n);
  if (qr.rank < n) return x.fill(Number.NaN);
  const rotated = Float64Array.from(b);
  for (let k = 0; k < n; k++) {
    let dot = 0;
    let square = 0;
    for (let i = k; i < m; i++) {
      dot += a[i * n + k] * rotated[i];
      square += a[i * n + k] ** 2;
    }
    if (square > 0) for (let i = k; i < m; i++) rotated[i] -= (2 * dot * a[i * n + k]) / square;
  }
  for (let k = n - 1; k >= 0; k--) {
    let sum = rotated[k];
    for (let j = k + 1; j < n; j++) sum -= upper[k * n + j] * x[j];
    x[k] = sum / upper[k * n + k];
  }
  return x.map((value, k) => value / scales[k]);
}

/** Inverse of R for the unscaled columns, columns × columns; NaN throughout when the columns are dependent. */
export function inverseUpper(qr: HouseholderQr): Float64Array {
  const { columns: n, upper, scales } = qr;
  const inverse = new Float64Array(n * n);
  if (qr.rank < n) return inverse.fill(Number.NaN);
  for (let k = 0; k < n; k++) {
    inverse[k * n + k] = 1 / upper[k * n + k];
    for (let i = k - 1; i >= 0; i--) {
      let sum = 0;
      for (let j = i + 1; j <= k; j++) sum -= upper[i * n + j] * inverse[j * n + k];
      inverse[i * n + k] = sum / upper[i * n + i];
    }
  }
  return inverse.map((value, index) => value / scales[Math.floor(index / n)]);
}

/** (AᵀA)⁻¹ = R⁻¹·R⁻ᵀ, columns × columns, row after row. */
export function inverseNormalMatrix(qr: HouseholderQr): Float64Array {
  const n = qr.columns;
  const inverse = inverseUpper(qr);
  const product = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      for (let k = Math.max(i, j); k < n; k++) product[i * n + j] += inverse[i * n + k] * inverse[j * n + k];
    }
  }
  return product;
}

/** Scaled by the largest entry, so that squares neither overflow nor vanish. */
function columnLength(
  a: Float64Array,
  { n, k, from, to }: { readonly n: number; readonly k: number; readonly from: number; readonly to: number },
): number {
  let largest = 0;
  for (let i = from; i < to; i++) largest = Math.max(largest, Math.abs(a[i * n + k]));
  if (largest === 0) return 0;
  let sum = 0;
  for (let i = from; i < to; i++) sum += (a[i * n + k] / largest) ** 2;
  return largest * Math.sqrt(sum);
}
