import { householderQr, leastSquaresSolution } from './householder.ts';
import { type LinearFit, linearFit } from './linear-fit.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

export interface SurfaceInput {
  /** One row of k factor settings per run, row after row. */
  readonly points: ArrayLike<number>;
  readonly factors: number;
  /** One per run. */
  readonly response: ArrayLike<number>;
}

/**
 * y = intercept + Σ linear[i]·x[i] + Σ Σ matrix[i, j]·x[i]·x[j]; matrix is symmetric, so a cross term b12 stands twice as b12/2.
 * stationary: point of zero slope, value there; nature by the signs of the eigenvalues (ascending), `flat` when one is as good as zero.
 */
export interface ResponseSurface {
  readonly intercept: number;
  readonly linear: Float64Array;
  readonly matrix: Float64Array;
  readonly stationary: Float64Array;
  readonly value: number;
  readonly eigenvalues: Float64Array;
  readonly nature: 'maximum' | 'minimum' | 'saddle' | 'flat';
  readonly fit: LinearFit;
}

/**
 * Full quadratic through designed runs, by least squares.
 *
 * Terms of `fit`, in this order: 1, x1 … xk, x1² … xk², then x1x2, x1x3 … Coded factors (−1 … 1) keep it well conditioned.
 *
 * @valid   at least as many distinct runs as terms, 1 + 2k + k(k−1)/2; fewer throws, a design that cannot tell the terms apart gives NaN
 * @source  Box & Wilson, J. R. Stat. Soc. B 13 (1951) 1; canonical analysis: Montgomery, Design and Analysis of Experiments, ch. 11
 */
export function responseSurface({ points, factors: k, response }: SurfaceInput): ResponseSurface {
  const rows = response.length;
  if (points.length !== rows * k) throw new RangeError(`expected ${rows} × ${k} settings, got ${points.length}`);
  const columns = 1 + 2 * k + (k * (k - 1)) / 2;
  const values = new Float64Array(rows * columns);
  for (let r = 0; r < rows; r++) {
    const x = Array.from({ length: k }, (_, i) => points[r * k + i]);
    values.set(termsOf(x), r * columns);
  }
  const fit = linearFit({ design: { rows, columns, values }, response });
  const b = fit.coefficients;
  const linear = b.slice(1, 1 + k);
  const matrix = new Float64Array(k * k);
  let next = 1 + 2 * k;
  for (let i = 0; i < k; i++) {
    matrix[i * k + i] = b[1 + k + i];
    for (let j = i + 1; j < k; j++) matrix[i * k + j] = matrix[j * k + i] = b[next++] / 2;
  }
  const qr = householderQr({ rows: k, columns: k, values: matrix });
  const stationary = leastSquaresSolution(
    qr,
    linear.map((slope) => -slope / 2),
  );
  const eigenvalues = symmetricEigen(matrix, k).values;
  const value = b[0] + linear.reduce((sum, slope, i) => sum + (slope * stationary[i]) / 2, 0);
  return { intercept: b[0], linear, matrix, stationary, value, eigenvalues, nature: natureOf(eigenvalues), fit };
}

/** Value of the surface at one setting [unit of the response]. @param x k settings */
export function surfaceValue(surface: ResponseSurface, x: ArrayLike<number>): number {
  const terms = termsOf(Array.from(x));
  return terms.reduce((sum, term, i) => sum + term * surface.fit.coefficients[i], 0);
}

function termsOf(x: readonly number[]): number[] {
  const cross = x.flatMap((a, i) => x.slice(i + 1).map((b) => a * b));
  return [1, ...x, ...x.map((a) => a * a), ...cross];
}

function natureOf(eigenvalues: Float64Array): ResponseSurface['nature'] {
  const largest = Math.max(...eigenvalues.map(Math.abs));
  if (!eigenvalues.every((value) => Math.abs(value) > 1e-9 * largest)) return 'flat';
  if (eigenvalues.every((value) => value < 0)) return 'maximum';
  return eigenvalues.every((value) => value > 0) ? 'minimum' : 'saddle';
}
