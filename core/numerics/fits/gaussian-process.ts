import { backwardSolution, cholesky, forwardSolution } from './cholesky.ts';

export interface GaussianProcessInput {
  /** One row of coordinates per observation, row after row. */
  readonly points: ArrayLike<number>;
  /** Length scale of each coordinate, > 0; their number is the number of coordinates. */
  readonly lengths: ArrayLike<number>;
  /** One per observation, about zero: subtract a mean first. */
  readonly response: ArrayLike<number>;
  /** Standard deviation of the function itself [unit of response], > 0. */
  readonly signal: number;
  /** Standard deviation of the noise of each observation [unit of response], ≥ 0. */
  readonly noise: number;
}

/** A process conditioned on its observations. logLikelihood: log marginal likelihood, for the choice of lengths and deviations. */
export interface GaussianProcess {
  readonly input: GaussianProcessInput;
  readonly lower: Float64Array;
  readonly weights: Float64Array;
  readonly logLikelihood: number;
}

/** variance is that of the noise-free function. */
export interface Prediction {
  readonly mean: number;
  readonly variance: number;
}

/**
 * Gaussian process of zero mean with a squared-exponential kernel.
 *
 *     k(x, x') = signal²·exp(−½·Σ ((x[d] − x'[d])/length[d])²)
 *
 * undefined when the kernel matrix is not positive definite (repeated points without noise).
 *
 * @valid   O(n³): a few hundred observations
 * @source  Rasmussen & Williams, Gaussian Processes for Machine Learning (2006), algorithm 2.1
 */
export function gaussianProcess(input: GaussianProcessInput): GaussianProcess | undefined {
  const n = input.response.length;
  if (input.points.length !== n * input.lengths.length) throw new RangeError('points and response do not match');
  const kernel = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) kernel[i * n + j] = covariance(input, rowOf(input, i), rowOf(input, j));
    kernel[i * n + i] += input.noise ** 2;
  }
  const lower = cholesky(kernel, n);
  if (!lower) return undefined;
  const half = forwardSolution(lower, input.response);
  let logLikelihood = (-n / 2) * Math.log(2 * Math.PI);
  for (let i = 0; i < n; i++) logLikelihood -= half[i] ** 2 / 2 + Math.log(lower[i * n + i]);
  return { input, lower, weights: backwardSolution(lower, half), logLikelihood };
}

/** Mean [unit of response] and variance [its square] at one point. @param point one entry per coordinate */
export function gaussianProcessPrediction(process: GaussianProcess, point: ArrayLike<number>): Prediction {
  const { input, lower, weights } = process;
  const link = Float64Array.from(weights, (_, i) => covariance(input, rowOf(input, i), point));
  const half = forwardSolution(lower, link);
  let mean = 0;
  let variance = input.signal ** 2;
  for (let i = 0; i < link.length; i++) {
    mean += link[i] * weights[i];
    variance -= half[i] ** 2;
  }
  return { mean, variance: Math.max(0, variance) };
}

function rowOf({ points, lengths }: GaussianProcessInput, i: number): number[] {
  return Array.from({ length: lengths.length }, (_, d) => points[i * lengths.length + d]);
}

function covariance(input: GaussianProcessInput, a: ArrayLike<number>, b: ArrayLike<number>): number {
  let distance = 0;
  for (let d = 0; d < input.lengths.length; d++) distance += ((a[d] - b[d]) / input.lengths[d]) ** 2;
  return input.signal ** 2 * Math.exp(-distance / 2);
}
