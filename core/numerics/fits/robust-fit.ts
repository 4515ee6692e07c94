import { HUBER_TUNING, medianAbsoluteDeviation } from '../statistics/robust.ts';
import { type LinearFit, type LinearFitInput, linearFit } from './linear-fit.ts';

/** Tuning of the bisquare: 95 % efficiency for normal residuals. @source Huber & Ronchetti, Robust Statistics, 2nd ed. */
export const BISQUARE_TUNING = 4.685;

export interface RobustFitInput extends LinearFitInput {
  /** huber keeps every observation but limits its pull; bisquare drops far ones altogether. */
  readonly loss: 'huber' | 'bisquare';
  /** In units of the residuals' scale; default 1.345 for huber, 4.685 for bisquare. */
  readonly tuning?: number;
}

/** As a linear fit, with the factor 0 … 1 each observation kept, the robust scale, and whether the steps settled. */
export interface RobustFit extends LinearFit {
  readonly robustness: Float64Array;
  readonly scale: number;
  readonly converged: boolean;
}

/**
 * Linear fit that outliers cannot pull far: iteratively reweighted least squares.
 *
 * Scale: 1.4826·median|r| of the residuals. The bisquare starts from the Huber answer, since it has several minima.
 * Covariance: s²·K²·[Σψ²/(n − p)]/(mean ψ′)²·(XᵀWX)⁻¹ with K = 1 + (p/n)·var(ψ′)/(mean ψ′)².
 *
 * @valid   outliers in the response, not in the design; n well above p
 * @source  Huber & Ronchetti, Robust Statistics, 2nd ed., 7.6 (covariance) and 7.8 (iteration)
 */
export function robustLinearFit(input: RobustFitInput): RobustFit {
  const start =
    input.loss === 'bisquare'
      ? iterated({ ...input, loss: 'huber', tuning: HUBER_TUNING }, linearFit(input))
      : linearFit(input);
  return iterated(input, start);
}

function iterated(input: RobustFitInput, start: LinearFit): RobustFit {
  const tuning = input.tuning ?? (input.loss === 'huber' ? HUBER_TUNING : BISQUARE_TUNING);
  const weights = Float64Array.from({ length: input.design.rows }, (_, i) => (input.weights ? input.weights[i] : 1));
  const robustness = new Float64Array(weights.length).fill(1);
  let fit = start;
  let scale = residualScale(fit.residuals, weights);
  let converged = !(scale > 0);
  for (let step = 0; step < 200 && !converged; step++) {
    for (let i = 0; i < weights.length; i++) {
      const r = Math.abs(fit.residuals[i]) * Math.sqrt(weights[i]);
      robustness[i] = factor(input.loss, r / (scale * tuning));
    }
    const before = fit.coefficients;
    fit = linearFit({ ...input, weights: weights.map((w, i) => w * robustness[i]) });
    scale = residualScale(fit.residuals, weights);
    const errors = fit.standardErrors;
    converged =
      !(scale > 0) || fit.coefficients.every((b, j) => !(Math.abs(b - before[j]) > 1e-9 * Math.max(errors[j], 1e-300)));
  }
  return { ...withCovariance(input, { fit, scale, tuning }), robustness, scale, converged };
}

/** @param ratio |residual| / (scale·tuning) */
function factor(loss: RobustFitInput['loss'], ratio: number): number {
  if (loss === 'huber') return Math.min(1, 1 / ratio);
  return ratio >= 1 ? 0 : (1 - ratio * ratio) ** 2;
}

function residualScale(residuals: Float64Array, weights: Float64Array): number {
  const sizes = residuals.map((r, i) => Math.abs(r) * Math.sqrt(weights[i]));
  const mirrored = Float64Array.from([...sizes, ...sizes.map((r) => -r)]);
  return medianAbsoluteDeviation(mirrored, 'refuse');
}

function withCovariance(
  input: RobustFitInput,
  { fit, scale, tuning }: { readonly fit: LinearFit; readonly scale: number; readonly tuning: number },
): LinearFit {
  const { rows: n, columns: p } = input.design;
  if (!(scale > 0) || n <= p) return fit;
  let squares = 0;
  let slopes = 0;
  let slopeSquares = 0;
  for (let i = 0; i < n; i++) {
    const r = (fit.residuals[i] * Math.sqrt(input.weights ? input.weights[i] : 1)) / scale;
    const ratio = Math.abs(r) / tuning;
    const slope =
      input.loss === 'huber' ? Number(ratio <= 1) : ratio >= 1 ? 0 : (1 - ratio ** 2) * (1 - 5 * ratio ** 2);
    squares += (r * factor(input.loss, ratio)) ** 2;
    slopes += slope / n;
    slopeSquares += slope ** 2 / n;
  }
  const correction = 1 + ((p / n) * (slopeSquares - slopes ** 2)) / slopes ** 2;
  const variance = (scale ** 2 * correction ** 2 * (squares / (n - p))) / slopes ** 2;
  const plain = linearFit(input);
  const covariance = plain.covariance.map((value) => (value / plain.residualDeviation ** 2) * variance);
  const standardErrors = plain.standardErrors.map((_, j) => Math.sqrt(covariance[j * p + j]));
  return { ...fit, covariance, standardErrors, leverages: plain.leverages, degreesOfFreedom: n - p };
}
