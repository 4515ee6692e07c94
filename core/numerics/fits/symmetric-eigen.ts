/** values ascending; vectors: column k (entries k, n + k, 2n + k …) belongs to values[k], unit length. */
export interface SymmetricEigen {
  readonly values: Float64Array;
  readonly vectors: Float64Array;
}

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix by Jacobi rotations.
 *
 * @param matrix n × n, row after row, symmetric; not changed
 * @param n      size
 * @source  Golub & Van Loan, Matrix Computations, 4th ed., 8.5
 */
export function symmetricEigen(matrix: ArrayLike<number>, n: number): SymmetricEigen {
  if (matrix.length !== n * n) throw new RangeError(`matrix is not ${n} × ${n}`);
  const a = Float64Array.from(matrix);
  const v = Float64Array.from({ length: n * n }, (_, i) => (i % (n + 1) === 0 ? 1 : 0));
  for (let sweep = 0; sweep < 60; sweep++) {
    let turned = false;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) turned = rotatedInto({ a, v, n }, p, q) || turned;
    if (!turned) break;
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => a[i * n + i] - a[j * n + j]);
  return {
    values: Float64Array.from(order, (i) => a[i * n + i]),
    vectors: Float64Array.from({ length: n * n }, (_, index) => v[Math.floor(index / n) * n + order[index % n]]),
  };
}

/** One rotation that clears entry (p, q); false when it is nothing against the diagonal already. */
function rotatedInto({ a, v, n }: { a: Float64Array; v: Float64Array; n: number }, p: number, q: number): boolean {
  const off = a[p * n + q];
  if (Math.abs(off) <= Number.EPSILON * Math.sqrt(Math.abs(a[p * n + p] * a[q * n + q])) || off === 0) return false;
  const ratio = (a[q * n + q] - a[p * n + p]) / (2 * off);
  const t = (ratio >= 0 ? 1 : -1) / (Math.abs(ratio) + Math.sqrt(1 + ratio * ratio));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const x = a[k * n + p];
    const y = a[k * n + q];
    a[k * n + p] = c * x - s * y;
    a[k * n + q] = s * x + c * y;
  }
  for (let k = 0; k < n; k++) {
    const x = a[p * n + k];
    const y = a[q * n + k];
    a[p * n + k] = c * x - s * y;
    a[q * n + k] = s * x + c * y;
    const ex = v[k * n + p];
    const ey = v[k * n + q];
    v[k * n + p] = c * ex - s * ey;
    v[k * n + q] = s * ex + c * ey;
  }
  return true;
}
