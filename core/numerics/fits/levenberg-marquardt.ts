import { householderQr, inverseNormalMatrix, leastSquaresSolution, type Matrix } from './householder.ts';

export interface NonlinearFitInput {
  /** Residuals of all observations for these parameters (data minus model, divided by the standard uncertainty if known). */
  readonly residuals: (parameters: Float64Array) => Float64Array;
  /** ∂residual[i]/∂parameter[j], row after row; default: central differences. */
  readonly jacobian?: (parameters: Float64Array) => Float64Array;
  readonly start: ArrayLike<number>;
  /** Typical size of each parameter, > 0, for the difference steps where a parameter is near 0; default its start, or 1. */
  readonly typical?: ArrayLike<number>;
  /** Largest relative change of every parameter at the end; default 1e-12. */
  readonly tolerance?: number;
  /** Default 500. */
  readonly maxSteps?: number;
}

/** covariance: p × p, row after row, scaled by the residuals' own spread. reason says why the search ended. */
export interface NonlinearFit {
  readonly parameters: Float64Array;
  readonly covariance: Float64Array;
  readonly standardErrors: Float64Array;
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  readonly residualDeviation: number;
  readonly degreesOfFreedom: number;
  readonly steps: number;
  readonly converged: boolean;
  readonly reason: 'small step' | 'no further descent' | 'step limit' | 'invalid start';
}

/**
 * Nonlinear least squares after Levenberg and Marquardt.
 *
 *     (JᵀJ + λ·D²)·δ = −Jᵀr,   D = largest length so far of each column of J
 *
 * Each step is solved by QR of the stacked matrix, never by the normal equations. Steps onto non-finite residuals are refused
 * like any ascent. `no further descent` is convergence to working precision.
 *
 * @valid   residuals smooth in the parameters; finds the nearest minimum, not the deepest. More observations than parameters
 * @source  Marquardt, SIAM J. 11 (1963) 431; scaling: Moré, Lecture Notes in Math. 630 (1978); damping: Nielsen, IMM-REP-1999-05
 */
export function levenbergMarquardt(input: NonlinearFitInput): NonlinearFit {
  const tolerance = input.tolerance ?? 1e-12;
  const maxSteps = input.maxSteps ?? 500;
  const jacobian = input.jacobian ?? centralJacobian(input);
  let at = evaluated(input, Float64Array.from(input.start));
  if (!Number.isFinite(at.sum)) return finished(at, { jacobian, steps: 0, reason: 'invalid start' });
  const scale = new Float64Array(at.parameters.length);
  let damping = 1e-3;
  let growth = 2;
  for (let steps = 1; steps <= maxSteps; steps++) {
    const slopes = jacobian(at.parameters);
    raiseScaleInto(scale, slopes);
    let accepted = false;
    while (!accepted) {
      const step = dampedStep({ slopes, residuals: at.residuals, scale, damping });
      const small = step.every((d, j) => Math.abs(d) <= tolerance * (Math.abs(at.parameters[j]) + tolerance));
      const tried = evaluated(
        input,
        at.parameters.map((p, j) => p + step[j]),
      );
      const gain = (at.sum - tried.sum) / predictedFall(slopes, at.residuals, step);
      accepted = tried.sum < at.sum && gain > 0;
      if (accepted) {
        at = tried;
        damping = Math.max(damping * Math.max(1 / 9, 1 - (2 * gain - 1) ** 3), 1e-16);
        growth = 2;
      }
      if (small) return finished(at, { jacobian, steps, reason: 'small step' });
      if (accepted) continue;
      damping *= growth;
      growth *= 2;
      if (damping > 1e16) return finished(at, { jacobian, steps, reason: 'no further descent' });
    }
  }
  return finished(at, { jacobian, steps: maxSteps, reason: 'step limit' });
}

interface State {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  readonly sum: number;
}

function evaluated(input: NonlinearFitInput, parameters: Float64Array): State {
  const residuals = input.residuals(parameters);
  let sum = 0;
  for (let i = 0; i < residuals.length; i++) sum += residuals[i] * residuals[i];
  return { parameters, residuals, sum: Number.isFinite(sum) ? sum : Number.POSITIVE_INFINITY };
}

/** Step of the cube root of the working precision, the best for a central difference. @source Press et al., Numerical Recipes, 5.7 */
function centralJacobian(input: NonlinearFitInput): (parameters: Float64Array) => Float64Array {
  const share = Math.cbrt(Number.EPSILON);
  return (parameters) => {
    const n = parameters.length;
    let slopes = new Float64Array(0);
    for (let j = 0; j < n; j++) {
      const typical = Math.abs(input.typical ? input.typical[j] : input.start[j]) || 1;
      const h = share * Math.max(Math.abs(parameters[j]), 1e-3 * typical);
      const moved = parameters.slice();
      moved[j] = parameters[j] + h;
      const above = input.residuals(moved).slice();
      const upper = moved[j];
      moved[j] = parameters[j] - h;
      const below = input.residuals(moved);
      if (j === 0) slopes = new Float64Array(above.length * n);
      for (let i = 0; i < above.length; i++) slopes[i * n + j] = (above[i] - below[i]) / (upper - moved[j]);
    }
    return slopes;
  };
}

function raiseScaleInto(scale: Float64Array, slopes: Float64Array): void {
  const n = scale.length;
  for (let j = 0; j < n; j++) {
    let square = 0;
    for (let i = j; i < slopes.length; i += n) square += slopes[i] ** 2;
    const length = Math.sqrt(square);
    if (Number.isFinite(length)) scale[j] = Math.max(scale[j], length);
    if (scale[j] === 0) scale[j] = Number.MIN_VALUE;
  }
}

function dampedStep(problem: {
  readonly slopes: Float64Array;
  readonly residuals: Float64Array;
  readonly scale: Float64Array;
  readonly damping: number;
}): Float64Array {
  const { slopes, residuals, scale, damping } = problem;
  const n = scale.length;
  const rows = residuals.length + n;
  const values = new Float64Array(rows * n);
  values.set(slopes);
  for (let j = 0; j < n; j++) values[(residuals.length + j) * n + j] = Math.sqrt(damping) * scale[j];
  const target = new Float64Array(rows);
  for (let i = 0; i < residuals.length; i++) target[i] = -residuals[i];
  const step = leastSquaresSolution(householderQr({ rows, columns: n, values }), target);
  return step.map((d) => (Number.isFinite(d) ? d : 0));
}

/** Fall of the sum of squares that the linear model promises for this step. */
function predictedFall(slopes: Float64Array, residuals: Float64Array, step: Float64Array): number {
  const n = step.length;
  let fall = 0;
  for (let i = 0; i < residuals.length; i++) {
    let change = 0;
    for (let j = 0; j < n; j++) change += slopes[i * n + j] * step[j];
    fall -= change * (2 * residuals[i] + change);
  }
  return Math.max(fall, Number.MIN_VALUE);
}

function finished(
  at: State,
  end: {
    readonly jacobian: (parameters: Float64Array) => Float64Array;
    readonly steps: number;
    readonly reason: NonlinearFit['reason'];
  },
): NonlinearFit {
  const n = at.parameters.length;
  const rows = at.residuals.length;
  const degreesOfFreedom = rows - n;
  const residualDeviation = degreesOfFreedom > 0 ? Math.sqrt(at.sum / degreesOfFreedom) : Number.NaN;
  const covariance =
    end.reason === 'invalid start' || degreesOfFreedom < 0
      ? new Float64Array(n * n).fill(Number.NaN)
      : scaledInverse({ rows, columns: n, values: end.jacobian(at.parameters) }, residualDeviation ** 2);
  return {
    parameters: at.parameters,
    covariance,
    standardErrors: Float64Array.from({ length: n }, (_, j) => Math.sqrt(covariance[j * n + j])),
    residuals: at.residuals,
    sumOfSquares: at.sum,
    residualDeviation,
    degreesOfFreedom,
    steps: end.steps,
    converged: end.reason === 'small step' || end.reason === 'no further descent',
    reason: end.reason,
  };
}

function scaledInverse(slopes: Matrix, variance: number): Float64Array {
  return inverseNormalMatrix(householderQr(slopes)).map((value) => value * variance);
}
