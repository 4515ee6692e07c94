import { studentQuantile } from './distributions.ts';

/** One input quantity. degreesOfFreedom: of its standard uncertainty; absent means it is well known (infinite). */
export interface UncertainInput {
  readonly name: string;
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom?: number;
}

/** Correlation coefficient of two inputs, −1 … 1, named. */
export interface Correlation {
  readonly first: string;
  readonly second: string;
  readonly coefficient: number;
}

export interface CombinationInput {
  readonly inputs: readonly UncertainInput[];
  /** The result from the values of the inputs, in their order. */
  readonly model: (values: readonly number[]) => number;
  /** ∂result/∂input at the values; default: central differences. */
  readonly sensitivities?: readonly number[];
  readonly correlations?: readonly Correlation[];
}

/** contribution = |sensitivity|·standardUncertainty [unit of the result]. */
export interface Contribution {
  readonly name: string;
  readonly sensitivity: number;
  readonly contribution: number;
}

export interface CombinedUncertainty {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Effective; Infinity when every input is well known. */
  readonly degreesOfFreedom: number;
  readonly contributions: readonly Contribution[];
}

/**
 * Combined standard uncertainty of a result, first order.
 *
 *     u² = Σ Σ cᵢ·cⱼ·rᵢⱼ·uᵢ·uⱼ,   cᵢ = ∂f/∂xᵢ        νeff = u⁴ / Σ (cᵢuᵢ)⁴/νᵢ   (Welch–Satterthwaite)
 *
 * A correlation of an unknown name, or matrices that make u² negative, throw: they are mistakes of the caller.
 *
 * @valid   model near linear over ± one uncertainty; with correlations νeff is only a guide (JCGM 100 G.4.1 assumes independence)
 * @source  JCGM 100:2008 (GUM), equations 10, 13, 16 and G.2b
 */
export function combinedUncertainty(input: CombinationInput): CombinedUncertainty {
  const { inputs, model } = input;
  const sensitivities = input.sensitivities ?? numericSensitivities(input);
  const parts = inputs.map(({ standardUncertainty }, i) => sensitivities[i] * standardUncertainty);
  let variance = parts.reduce((sum, part) => sum + part * part, 0);
  for (const { first, second, coefficient } of input.correlations ?? []) {
    const i = inputs.findIndex(({ name }) => name === first);
    const j = inputs.findIndex(({ name }) => name === second);
    if (i < 0 || j < 0 || i === j) throw new RangeError(`unknown correlation: ${first}, ${second}`);
    if (!(Math.abs(coefficient) <= 1)) throw new RangeError(`invalid correlation: ${coefficient}`);
    variance += 2 * coefficient * parts[i] * parts[j];
  }
  if (variance < -1e-12 * parts.reduce((sum, part) => sum + part * part, 0)) {
    throw new RangeError('correlations contradict each other');
  }
  const standardUncertainty = Math.sqrt(Math.max(0, variance));
  const fourths = inputs.reduce((sum, { degreesOfFreedom }, i) => {
    return sum + parts[i] ** 4 / (degreesOfFreedom ?? Number.POSITIVE_INFINITY);
  }, 0);
  return {
    value: model(inputs.map(({ value }) => value)),
    standardUncertainty,
    degreesOfFreedom: fourths > 0 ? standardUncertainty ** 4 / fourths : Number.POSITIVE_INFINITY,
    contributions: inputs.map(({ name }, i) => ({
      name,
      sensitivity: sensitivities[i],
      contribution: Math.abs(parts[i]),
    })),
  };
}

/**
 * Factor for an expanded uncertainty: two-sided Student quantile [1].
 *
 * @param degreesOfFreedom effective, cut down to a whole number as JCGM 100 G.4.2 advises; below 1 gives NaN
 * @param confidence       0 … 1, such as 0.95
 * @source  JCGM 100:2008, G.3.2 and G.4.2
 */
export function coverageFactor(degreesOfFreedom: number, confidence: number): number {
  const whole = Math.floor(degreesOfFreedom);
  return whole >= 1 ? studentQuantile((1 + confidence) / 2, whole) : Number.NaN;
}

/** Step of a thousandth of the standard uncertainty keeps to the part of the model that matters; else of the value. */
function numericSensitivities({ inputs, model }: CombinationInput): readonly number[] {
  const values = inputs.map(({ value }) => value);
  return inputs.map(({ value, standardUncertainty }, i) => {
    const h = Math.max(standardUncertainty * 1e-3, Math.abs(value) * 1e-6) || 1e-6;
    const above = model(values.map((x, j) => (j === i ? x + h : x)));
    const below = model(values.map((x, j) => (j === i ? x - h : x)));
    return (above - below) / (2 * h);
  });
}
