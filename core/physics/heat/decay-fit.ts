import {
  designOf,
  householderQr,
  inverseNormalMatrix,
  levenbergMarquardt,
  linearFit,
  type NonlinearFit,
} from '../../numerics/index.ts';
import { answered, type Finding, type Measured, type Outcome, refused } from '../../quantities/index.ts';

export interface DecayInput {
  /** [s], rising, on any origin. */
  readonly times: Float64Array;
  /** As long as `times` [K]; NaN where missing, left out. */
  readonly temperatures: Float64Array;
  /** Temperature of the surroundings to which it relaxes, if it is known [K]. Without it the fit finds it, far less surely. */
  readonly end?: Measured;
}

/** timeConstant [s], end [K], temperature [K] at `time`, which is that of the last usable sample [s]. */
export interface DecayFit {
  readonly timeConstant: Measured;
  readonly end: Measured;
  readonly temperature: Measured;
  readonly time: number;
  /** Of the samples about the curve [K]. */
  readonly deviation: number;
  /** Covariance of (temperature, end, ln τ), row after row. */
  readonly covariance: readonly number[];
  /** Samples that count as independent. */
  readonly independent: number;
}

/** Fewest samples, and least change over deviation, for a decay to be believed. @source our default */
export const FEWEST_DECAY_SAMPLES = 8;
const LEAST_CHANGE = 5;
/** Largest relative uncertainty of the time constant that is still an answer. @source our default */
const LARGEST_SPREAD = 0.5;

/**
 * Time constant of a fluid or part that cools (or warms) on its own, from its own samples.
 *
 *     T(t) = Tend + (Tlast − Tend)·e^(−(t − tlast)/τ)
 *
 * Neighbouring residuals of a sampled temperature are alike; their lag-one correlation ρ cuts the number of samples that count as
 * independent by (1 − ρ)/(1 + ρ). A known end enters as one more observation.
 *
 * Refuses too few samples, a change lost in the noise, and a record too short to tell a time constant.
 *
 * @valid   nothing changes meanwhile: fan, flow and load as they were; thermostats and baffles open new decays
 * @source  lumped capacitance, as {@link lumpTemperature}; effective sample size of a first-order autoregression: Box, Jenkins & Reinsel,
 *          Time Series Analysis (from memory)
 */
export function decayFit(input: DecayInput): Outcome<DecayFit> {
  const { t, T } = usable(input);
  if (t.length < FEWEST_DECAY_SAMPLES) {
    const numbers = { samples: t.length, limit: FEWEST_DECAY_SAMPLES };
    return refused({ kind: 'decay-too-few-samples', message: 'missing samples of the decay', numbers });
  }
  const span = t[t.length - 1] - t[0];
  const change = Math.abs(straightChange(t, T));
  const fit = settledFit({ t, T, end: input.end, span });
  const { deviation } = fit.noise;
  const numbers = { change, deviation, span };
  if (!(change > LEAST_CHANGE * deviation) || change < 1e-9) {
    return refused({ kind: 'no-decay-seen', message: 'missing decay: the change does not leave the noise', numbers });
  }
  const found = described(fit, t, input.end);
  const spread = found.timeConstant.standardUncertainty / found.timeConstant.value;
  if (!fit.converged || !(spread <= LARGEST_SPREAD) || !(found.timeConstant.value > 0)) {
    const kind = 'decay-not-determined';
    const message = 'missing decay: the record is too short to tell a time constant';
    return refused({ kind, message, numbers: { ...numbers, timeConstant: found.timeConstant.value, spread } });
  }
  const short: Finding = {
    kind: 'decay-short',
    weight: 'doubt',
    message: 'record shorter than one time constant',
    numbers: { span, timeConstant: found.timeConstant.value },
  };
  return answered(found, span < found.timeConstant.value ? [short] : []);
}

interface Samples {
  readonly t: Float64Array;
  readonly T: Float64Array;
}

function usable({ times, temperatures }: DecayInput): Samples {
  if (times.length !== temperatures.length) throw new RangeError('times and temperatures of unequal length');
  const keep = [...times.keys()].filter((i) => Number.isFinite(times[i]) && Number.isFinite(temperatures[i]));
  return { t: Float64Array.from(keep, (i) => times[i]), T: Float64Array.from(keep, (i) => temperatures[i]) };
}

function straightChange(t: Float64Array, T: Float64Array): number {
  const design = designOf([new Float64Array(t.length).fill(1), t.map((time) => time - t[0])]);
  return linearFit({ design, response: T }).coefficients[1] * (t[t.length - 1] - t[0]);
}

/** deviation: of one sample [K]. independent: how many samples count. perSample: what one of all samples counts as known to [K]. */
interface Noise {
  readonly deviation: number;
  readonly independent: number;
  readonly perSample: number;
}

interface Fitted {
  readonly parameters: Float64Array;
  readonly converged: boolean;
  readonly noise: Noise;
}

interface FitTask extends Samples {
  readonly end: Measured | undefined;
  readonly span: number;
}

/** A known end is weighed against samples whose worth only their residuals tell: hence three rounds. */
function settledFit(task: FitTask): Fitted {
  let fit = fitted(task, Math.max(roughness(task.T), 1e-6));
  for (let round = 0; round < 2; round++) fit = fitted(task, Math.max(fit.noise.perSample, 1e-6));
  return fit;
}

/** Parameters (Tlast, Tend, ln τ); several starts, for a short record has a flat valley. */
function fitted({ t, T, end, span }: FitTask, noise: number): Fitted {
  const n = t.length;
  const residuals = ([last, settled, logTau]: Float64Array): Float64Array => {
    const found = new Float64Array(n + (end ? 1 : 0));
    const tau = Math.exp(logTau);
    for (let i = 0; i < n; i++) {
      found[i] = (T[i] - settled - (last - settled) * Math.exp((t[n - 1] - t[i]) / tau)) / noise;
    }
    if (end) found[n] = (settled - end.value) / Math.max(end.standardUncertainty, 1e-3 * noise);
    return found;
  };
  const middle = T[n >> 1];
  const guess = end ? end.value : T[n - 1] + 0.5 * (T[n - 1] - T[0]);
  let best: NonlinearFit | undefined;
  for (const share of [0.3, 1, 3]) {
    const start = [T[n - 1], guess, Math.log(span * share)];
    const tried = levenbergMarquardt({
      residuals,
      start,
      typical: [1, Math.abs(middle - guess) + 1, 1],
      tolerance: 1e-9,
    });
    if (best === undefined || tried.sumOfSquares < best.sumOfSquares) best = tried;
  }
  if (best === undefined) throw new Error('no start was tried');
  const own = best.residuals.slice(0, n).map((residual) => residual * noise);
  return { parameters: best.parameters, converged: best.converged, noise: noiseOf(own) };
}

/** The curve follows slow noise, so residuals look less alike than the noise is: (4 + 4ρ)/n is given back. @source our default, after the bias of a fitted lag-one correlation */
function noiseOf(residuals: Float64Array): Noise {
  const n = residuals.length;
  const squares = residuals.reduce((sum, residual) => sum + residual * residual, 0);
  const seen = lagOne(residuals, squares);
  const beyondChance = seen > 2 / Math.sqrt(n);
  const correlation = beyondChance ? Math.min(0.99, seen + (4 + 4 * seen) / n) : Math.max(0, seen);
  const independent = Math.max(4, (n * (1 - correlation)) / (1 + correlation));
  const deviation = Math.sqrt(squares / Math.max(1, n - 3));
  return { deviation, independent, perSample: deviation * Math.sqrt(n / independent) };
}

/** Deviation of the samples from their neighbours' mean [K]: their noise, whatever the slope. */
function roughness(T: Float64Array): number {
  let sum = 0;
  for (let i = 1; i < T.length - 1; i++) sum += (T[i] - (T[i - 1] + T[i + 1]) / 2) ** 2;
  return Math.sqrt(sum / (1.5 * Math.max(1, T.length - 2)));
}

function described(fit: Fitted, t: Float64Array, known: Measured | undefined): DecayFit {
  const n = t.length;
  const { deviation, independent, perSample } = fit.noise;
  const [last, end, logTau] = fit.parameters;
  const tau = Math.exp(logTau);
  const weight = 1 / Math.max(perSample, 1e-9);
  const rows: number[] = [];
  for (const time of t) {
    const left = (t[n - 1] - time) / tau;
    const share = Math.exp(left);
    rows.push(weight * share, weight * (1 - share), -weight * (last - end) * share * left);
  }
  if (known) rows.push(0, 1 / Math.max(known.standardUncertainty, 1e-6), 0);
  const design = { rows: rows.length / 3, columns: 3, values: Float64Array.from(rows) };
  const covariance = [...inverseNormalMatrix(householderQr(design))];
  const root = (k: number): number => Math.sqrt(Math.max(0, covariance[k]));
  return {
    timeConstant: { value: tau, standardUncertainty: tau * root(8) },
    end: { value: end, standardUncertainty: root(4) },
    temperature: { value: last, standardUncertainty: root(0) },
    time: t[n - 1],
    deviation,
    covariance,
    independent,
  };
}

function lagOne(residuals: Float64Array, squares: number): number {
  let product = 0;
  for (let i = 1; i < residuals.length; i++) product += residuals[i] * residuals[i - 1];
  return squares > 0 ? product / squares : 0;
}
