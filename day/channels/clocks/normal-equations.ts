/** Square symmetric matrix, row after row, of size n. */
export interface Symmetric {
  readonly n: number;
  readonly data: Float64Array;
}

export function symmetric(n: number): Symmetric {
  return { n, data: new Float64Array(n * n) };
}

/**
 * Inverse of a symmetric positive definite matrix; undefined when it is not (to 1e-13 of its scale).
 *
 * @source  Cholesky factorisation with scaling of the diagonal to one: Golub & Van Loan, Matrix Computations, 4.2
 */
export function inverse({ n, data }: Symmetric): Symmetric | undefined {
  const scale = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    if (!(data[i * n + i] > 0)) return undefined;
    scale[i] = 1 / Math.sqrt(data[i * n + i]);
  }
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = data[i * n + j] * scale[i] * scale[j];
      for (let k = 0; k < j; k++) sum -= lower[i * n + k] * lower[j * n + k];
      if (i === j) {
        if (!(sum > 1e-13)) return undefined;
        lower[i * n + i] = Math.sqrt(sum);
      } else lower[i * n + j] = sum / lower[j * n + j];
    }
  }
  const result = symmetric(n);
  for (let column = 0; column < n; column++) {
    const x = solved(lower, n, column);
    for (let row = 0; row < n; row++) result.data[row * n + column] = x[row] * scale[row] * scale[column];
  }
  return result;
}

export function times({ n, data }: Symmetric, vector: Float64Array): Float64Array {
  const product = new Float64Array(n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) product[i] += data[i * n + j] * vector[j];
  return product;
}

/** L·Lᵀ·x = unit vector. */
function solved(lower: Float64Array, n: number, unit: number): Float64Array {
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = i === unit ? 1 : 0;
    for (let k = 0; k < i; k++) sum -= lower[i * n + k] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i];
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i] * x[k];
    x[i] = sum / lower[i * n + i];
  }
  return x;
}
