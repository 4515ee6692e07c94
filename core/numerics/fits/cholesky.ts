/**
 * Lower triangle L with L·Lᵀ = A, n × n, row after row; undefined when A is not positive definite.
 *
 * @param matrix symmetric, n × n; only its lower half is read
 * @source  Golub & Van Loan, Matrix Computations, 4th ed., 4.2
 */
export function cholesky(matrix: ArrayLike<number>, n: number): Float64Array | undefined {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j];
      for (let k = 0; k < j; k++) sum -= lower[i * n + k] * lower[j * n + k];
      if (i !== j) lower[i * n + j] = sum / lower[j * n + j];
      else if (sum > 0) lower[i * n + i] = Math.sqrt(sum);
      else return undefined;
    }
  }
  return lower;
}

/** x with L·x = b. */
export function forwardSolution(lower: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = b[i];
    for (let k = 0; k < i; k++) sum -= lower[i * n + k] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  return x;
}

/** x with Lᵀ·x = b. */
export function backwardSolution(lower: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i];
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  return x;
}
