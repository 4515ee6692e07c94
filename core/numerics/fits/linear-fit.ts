import { householderQr, inverseNormalMatrix, inverseUpper, leastSquaresSolution, type Matrix } from './householder.ts';

export interface LinearFitInput {
  /** One row per observation, one column per coefficient; a constant term is a column of ones. */
  readonly design: Matrix;
  /** As long as `design.rows`. */
  readonly response: ArrayLike<number>;
  /** Proportional to 1/variance of each observation, ≥ 0; default all 1. */
  readonly weights?: ArrayLike<number>;
}

/**
 * coefficients: one per column. covariance: columns × columns, row after row, from the residuals' own spread.
 * residuals = response − fitted, leverages (diagonal of the hat matrix): one per row.
 * residualDeviation: √(Σ w·r²/degreesOfFreedom), NaN without degrees of freedom.
 */
export interface LinearFit {
  readonly coefficients: Float64Array;
  readonly covariance: Float64Array;
  readonly standardErrors: Float64Array;
  readonly residuals: Float64Array;
  readonly leverages: Float64Array;
  readonly residualDeviation: number;
  readonly degreesOfFreedom: number;
  readonly rank: number;
}

/**
 * Weighted linear least squares by Householder QR.
 *
 *     min Σ w·(y − X·b)²      cov(b) = s²·(XᵀWX)⁻¹,  s² = Σ w·r²/(n − p)
 *
 * n counts the rows of weight above zero. Dependent columns give NaN coefficients and `rank` below the number of columns.
 *
 * @valid   no missing values: a NaN throws, drop the pair first. Fewer rows than columns throws
 * @source  Golub & Van Loan, Matrix Computations, 5.3; Montgomery et al., Introduction to Linear Regression Analysis, 3.2
 */
export function linearFit({ design, response, weights }: LinearFitInput): LinearFit {
  const { rows: m, columns: n } = design;
  if (response.length !== m || (weights && weights.length !== m)) throw new RangeError(`expected ${m} observations`);
  const roots = rootWeights(m, weights);
  const scaled = new Float64Array(m * n);
  const target = new Float64Array(m);
  let used = 0;
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < n; j++) scaled[i * n + j] = roots[i] * design.values[i * n + j];
    target[i] = roots[i] * response[i];
    if (roots[i] > 0) used++;
    if (Number.isNaN(response[i])) throw new RangeError(`missing sample at index ${i}`);
  }
  if (design.values.some(Number.isNaN)) throw new RangeError('missing value in the design');
  const qr = householderQr({ rows: m, columns: n, values: scaled });
  const coefficients = leastSquaresSolution(qr, target);
  const residuals = new Float64Array(m);
  let squares = 0;
  for (let i = 0; i < m; i++) {
    let fitted = 0;
    for (let j = 0; j < n; j++) fitted += design.values[i * n + j] * coefficients[j];
    residuals[i] = response[i] - fitted;
    squares += (roots[i] * residuals[i]) ** 2;
  }
  const degreesOfFreedom = used - n;
  const residualDeviation = degreesOfFreedom > 0 ? Math.sqrt(squares / degreesOfFreedom) : Number.NaN;
  const covariance = inverseNormalMatrix(qr).map((value) => value * residualDeviation ** 2);
  return {
    coefficients,
    covariance,
    standardErrors: Float64Array.from({ length: n }, (_, j) => Math.sqrt(covariance[j * n + j])),
    residuals,
    leverages: hatDiagonal(scaled, inverseUpper(qr), { m, n }),
    residualDeviation,
    degreesOfFreedom,
    rank: qr.rank,
  };
}

/** Design matrix 1, x, x² … x^degree. @param x one entry per row */
export function polynomialDesign(x: ArrayLike<number>, degree: number): Matrix {
  const columns = degree + 1;
  const values = new Float64Array(x.length * columns);
  for (let i = 0; i < x.length; i++) for (let k = 0; k < columns; k++) values[i * columns + k] = x[i] ** k;
  return { rows: x.length, columns, values };
}

/** Design matrix from columns of equal length. */
export function designOf(columns: readonly ArrayLike<number>[]): Matrix {
  const rows = columns[0]?.length ?? 0;
  if (columns.some((column) => column.length !== rows)) throw new RangeError('columns of unequal length');
  const values = new Float64Array(rows * columns.length);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) values[i * columns.length + j] = column[i];
  });
  return { rows, columns: columns.length, values };
}

function rootWeights(m: number, weights: ArrayLike<number> | undefined): Float64Array {
  return Float64Array.from({ length: m }, (_, i) => {
    const weight = weights ? weights[i] : 1;
    if (!(weight >= 0)) throw new RangeError(`invalid weight at index ${i}: ${weight}`);
    return Math.sqrt(weight);
  });
}

/** Row i of X·R⁻¹ is row i of Q; the leverage is its squared length. */
function hatDiagonal(
  x: Float64Array,
  inverse: Float64Array,
  { m, n }: { readonly m: number; readonly n: number },
): Float64Array {
  const leverages = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < n; k++) {
      let q = 0;
      for (let j = 0; j <= k; j++) q += x[i * n + j] * inverse[j * n + k];
      leverages[i] += q * q;
    }
  }
  return leverages;
}
