/**
 * Solution of a small dense system, put in place of its right side.
 *
 * @param right   n values, overwritten by the solution
 * @param matrix  n × n, row after row, overwritten
 * @source  Gauss elimination with partial pivoting
 */
export function solveInto(right: Float64Array, matrix: Float64Array): void {
  const n = right.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(matrix[i * n + k]) > Math.abs(matrix[pivot * n + k])) pivot = i;
    if (pivot !== k) swapRows({ right, matrix }, k, pivot);
    for (let i = k + 1; i < n; i++) {
      const factor = matrix[i * n + k] / matrix[k * n + k];
      if (factor === 0) continue;
      for (let j = k; j < n; j++) matrix[i * n + j] -= factor * matrix[k * n + j];
      right[i] -= factor * right[k];
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) right[k] -= matrix[k * n + j] * right[j];
    right[k] /= matrix[k * n + k];
  }
}

function swapRows(
  { right, matrix }: { readonly right: Float64Array; readonly matrix: Float64Array },
  a: number,
  b: number,
): void {
  const n = right.length;
  for (let j = 0; j < n; j++) {
    const kept = matrix[a * n + j];
    matrix[a * n + j] = matrix[b * n + j];
    matrix[b * n + j] = kept;
  }
  const kept = right[a];
  right[a] = right[b];
  right[b] = kept;
}
