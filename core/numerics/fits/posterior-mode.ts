import { householderQr, inverseNormalMatrix, leastSquaresSolution } from './householder.ts';

export interface PosteriorInput {
  /** Whitened residuals for parameters in units of their prior spread about their prior mean; always of one length. */
  readonly residuals: (z: Float64Array) => Float64Array;
  /** ∂residual[i]/∂z[j], row after row; default: forward differences. */
  readonly jacobian?: (z: Float64Array, residuals: Float64Array) => Float64Array;
  /** Number of parameters. */
  readonly size: number;
  /** Largest change of a parameter at the end, in prior spreads; default 0.01. */
  readonly tolerance?: number;
  /** Default 12. */
  readonly maxSteps?: number;
  /** How often slopes are worked out anew; in between they follow the steps; default 2. */
  readonly jacobians?: number;
}

/** covariance: size × size, row after row, in units of the prior spreads, not scaled by the residuals. */
export interface PosteriorMode {
  readonly z: Float64Array;
  readonly covariance: Float64Array;
  readonly residuals: Float64Array;
  readonly steps: number;
  readonly converged: boolean;
}

/** Farthest that a parameter goes from its prior mean, in prior spreads. @source our default */
const FARTHEST = 5;
const DIFFERENCE = 0.05;

/**
 * Most probable parameters with normal priors: least squares of residuals and z together.
 *
 *     minimise |r(z)|² + |z|²,   covariance (JᵀJ + 1)⁻¹
 *
 * Gauss–Newton with halved steps; slopes are brought up to date by rank-one corrections between full computations.
 *
 * @valid   residuals smooth and not far from linear over a prior spread; priors independent
 * @source  Bayesian least squares, Tarantola, Inverse Problem Theory, ch. 3; corrections: Broyden, Math. Comp. 19 (1965) 577 (both from memory)
 */
export function posteriorMode(input: PosteriorInput): PosteriorMode {
  const { size, tolerance = 0.01, maxSteps = 12, jacobians = 2 } = input;
  const slopesAt = input.jacobian ?? forwardSlopes(input);
  let z: Float64Array = new Float64Array(size);
  let residuals: Float64Array = input.residuals(z).slice();
  let slopes: Float64Array = new Float64Array(0);
  let converged = false;
  let steps = 0;
  while (steps < maxSteps && !converged) {
    if (steps < jacobians) slopes = slopesAt(z, residuals);
    steps += 1;
    const step = stepOf(slopes, residuals, z);
    const tried = shortened(input, { z, step, residuals });
    if (!tried) break;
    correct(slopes, tried, residuals);
    converged = tried.step.every((d) => Math.abs(d) <= tolerance) && steps >= jacobians;
    z = tried.z;
    residuals = tried.residuals;
  }
  const covariance = inverseNormalMatrix(householderQr(stacked(slopes, size)));
  return { z, covariance, residuals, steps, converged };
}

interface Tried {
  readonly z: Float64Array;
  readonly step: Float64Array;
  readonly residuals: Float64Array;
}

/** The step, halved until the sum of squares falls; undefined when it never does. */
function shortened(
  input: PosteriorInput,
  { z, step, residuals }: { z: Float64Array; step: Float64Array; residuals: Float64Array },
): Tried | undefined {
  const before = squares(residuals) + squares(z);
  for (let share = 1; share > 0.05; share /= 2) {
    const next = z.map((value, j) => Math.max(-FARTHEST, Math.min(FARTHEST, value + share * step[j])));
    const found = input.residuals(next).slice();
    const after = squares(found) + squares(next);
    if (after <= before * (1 + 1e-9)) return { z: next, step: next.map((value, j) => value - z[j]), residuals: found };
  }
  return undefined;
}

function squares(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] * values[i];
  return Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY;
}

function stacked(slopes: Float64Array, size: number) {
  const rows = slopes.length / size + size;
  const values = new Float64Array(rows * size);
  values.set(slopes);
  for (let j = 0; j < size; j++) values[slopes.length + j * size + j] = 1;
  return { rows, columns: size, values };
}

function stepOf(slopes: Float64Array, residuals: Float64Array, z: Float64Array): Float64Array {
  const matrix = stacked(slopes, z.length);
  const target = new Float64Array(matrix.rows);
  for (let i = 0; i < residuals.length; i++) target[i] = -residuals[i];
  for (let j = 0; j < z.length; j++) target[residuals.length + j] = -z[j];
  return leastSquaresSolution(householderQr(matrix), target);
}

/** Rank-one correction of the slopes by what the step really did. */
function correct(slopes: Float64Array, { step, residuals }: Tried, before: Float64Array): void {
  const n = step.length;
  const length = squares(step);
  if (length < 1e-12) return;
  for (let i = 0; i < residuals.length; i++) {
    let promised = 0;
    for (let j = 0; j < n; j++) promised += slopes[i * n + j] * step[j];
    const wrong = (residuals[i] - before[i] - promised) / length;
    for (let j = 0; j < n; j++) slopes[i * n + j] += wrong * step[j];
  }
}

function forwardSlopes({ residuals: at, size }: PosteriorInput) {
  return (z: Float64Array, residuals: Float64Array): Float64Array => {
    const base = residuals.slice();
    const slopes = new Float64Array(base.length * size);
    for (let j = 0; j < size; j++) {
      const moved = z.slice();
      moved[j] += DIFFERENCE;
      const found = at(moved);
      for (let i = 0; i < base.length; i++) slopes[i * size + j] = (found[i] - base[i]) / DIFFERENCE;
    }
    return slopes;
  };
}
