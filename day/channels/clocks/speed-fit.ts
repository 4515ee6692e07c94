import { ratioClusters } from './clusters.ts';
import { inverse, type Symmetric, symmetric, times } from './normal-equations.ts';
import { curveInto, type PointOfCurve, type SmoothPiece } from './smooth.ts';

/** Roller side on an even grid, as long as `time`; cell: which stretch of clocks a sample belongs to. */
export interface FitSamples {
  readonly time: Float64Array;
  readonly speed: Float64Array;
  /** [N]; zeros when no force is known. */
  readonly force: Float64Array;
  /** [m/s²]; zeros when the force already holds the inertia part. */
  readonly acceleration: Float64Array;
  readonly cell: Int32Array;
  /** dF/dt [N/s]; zeros when no force is known. */
  readonly forceSlope: Float64Array;
  /** d ln v/dt through the wider window [1/s]. */
  readonly slope: Float64Array;
  /** Share of the own slope in the regressor; the quieter side has the larger one. */
  readonly ownShare: number;
}

/** A stretch in which both clocks run on: the other side's curve there, and a first guess of the offset [s]. */
export interface FitCell {
  readonly curve: readonly SmoothPiece[];
  /** The same through a wider window: gives the slope. */
  readonly wide: readonly SmoothPiece[];
  readonly offset: number;
  /** Cells with the same number share one offset. */
  readonly shared: number;
}

export interface FitPrior {
  readonly value: number;
  readonly uncertainty: number;
}

export interface FitOptions {
  readonly rate?: FitPrior;
  readonly growth?: FitPrior;
  readonly creep?: FitPrior;
  /** What the acceleration can still do beside the force [s²/m]; by default the prior for an unknown mass of the rolls. */
  readonly acceleration?: FitPrior;
  /** Rate fixed at this value and not estimated. */
  readonly fixedRate?: number;
  /** Offsets stay as the cells say. */
  readonly fixedOffset?: boolean;
}

/**
 * offsets: mapped time minus own time at `middles` for every shared number [s]; ratios: engine speed over roll speed per gear, most
 * used first; growth [s²/m²]; creep [1/N]. covariance: offsets, then rate. residuals, weights: as long as the samples.
 */
export interface SpeedFit {
  readonly middles: Float64Array;
  readonly offsets: Float64Array;
  readonly offsetUncertainties: Float64Array;
  readonly covariance: Symmetric;
  readonly rate: number;
  readonly rateUncertainty: number;
  readonly ratios: readonly number[];
  readonly growth: number;
  readonly growthUncertainty: number;
  readonly creep: number;
  readonly creepUncertainty: number;
  readonly residuals: Float64Array;
  readonly weights: Float64Array;
  /** Relative change of the other speed per second of lag [1/s], as long as the samples. */
  readonly sensitivity: Float64Array;
  /** Robust spread of ln ratio [1]. */
  readonly spread: number;
  /** Share of the samples with a speed on both sides that the model explains. */
  readonly explained: number;
}

/** Common practice, no source: growth 0.5–2 % of the ratio by 50 m/s; creep 0.3–1 % per kN; the same through m·a for 1 t. */
export const GROWTH_PRIOR = { value: -3e-6, uncertainty: 4e-6 } as const;
export const CREEP_PRIOR = { value: 5e-6, uncertainty: 5e-6 } as const;
export const ACCELERATION_PRIOR = { value: 3e-3, uncertainty: 4e-3 } as const;
/** Slip as creep + q·creep²: q is 0 where slip counts from the roll’s speed, 1 where it counts from the tyre’s; even spread over 0…1. @source both definitions are in use */
export const SECOND_ORDER_PRIOR = { value: 0.5, uncertainty: 0.5 } as const;
const OFFSET_PRIOR = 1;
/** Widens both uncertainties: seeded trials scatter by up to this much more than the equations say. @source our default, measured on invented logs */
const CAUTION = 1.2;
const BLOCK = 0.5;

/**
 * Offset, rate, ratio, growth and creep that make both speeds agree, by robust least squares on the logarithm:
 *
 *     ln ω(t_e) = ln k + ln v(t_r) + ln(1 + s) − ln(1 − g·(v·(1 + s))²) + d·a,   s = c·F + q·(c·F)²        t_e = t_r + offset + rate·(t_r − middle)
 *
 * Gauss–Newton; the weight of a sample falls to zero as it leaves the model (Tukey), so that slip, an open clutch, a shift or lost
 * sync do not pull. Every gear has its own k. Growth and creep have priors. Uncertainty: the larger of the plain one, with the
 * residuals' own correlation, and the one from sums over blocks of 0.5 s (sandwich).
 *
 * Undefined when fewer than 12 samples can be used or the equations are singular.
 *
 * @source  Tukey's weight 4.685: Huber & Ronchetti, Robust Statistics; block sandwich: White, Econometrica 48 (1980) 817, with clusters
 */
export function speedFit(
  samples: FitSamples,
  cells: readonly FitCell[],
  options: FitOptions = {},
): SpeedFit | undefined {
  const work = workspace(samples, cells, options);
  if (work === undefined) return undefined;
  let equations: Equations | undefined;
  for (let step = 0; step < 14; step++) {
    residualsInto(work);
    weightsInto(work, step);
    equations = normalEquations(work);
    if (equations.used < 12) return undefined;
    const invers = inverse(equations.matrix);
    if (invers === undefined) return undefined;
    const change = times(invers, equations.gradient);
    let largest = 0;
    for (let j = 0; j < change.length; j++) {
      const limited = j < work.shared ? Math.max(-0.5, Math.min(0.5, change[j])) : change[j];
      work.state[j] += limited;
      if (j < work.shared) largest = Math.max(largest, Math.abs(limited));
    }
    if (step > 5 && largest < 1e-5) break;
  }
  residualsInto(work);
  weightsInto(work, 99);
  equations = normalEquations(work);
  return finished(work, equations);
}

interface Workspace {
  readonly samples: FitSamples;
  readonly cells: readonly FitCell[];
  readonly options: FitOptions;
  readonly middles: Float64Array;
  readonly shared: number;
  readonly gears: readonly number[];
  /** offsets · rate [1e-3] · growth [1e-6] · creep [1e-6] · acceleration [1e-3] · second order of creep · ln k per gear. */
  readonly state: Float64Array;
  readonly prior: { readonly value: Float64Array; readonly weight: Float64Array };
  readonly gear: Int32Array;
  readonly residuals: Float64Array;
  readonly sensitivity: Float64Array;
  readonly weights: Float64Array;
  scale: number;
}

function workspace(samples: FitSamples, cells: readonly FitCell[], options: FitOptions): Workspace | undefined {
  const n = samples.time.length;
  const shared = 1 + Math.max(...cells.map((cell) => cell.shared));
  const first = new Float64Array(n);
  const point: PointOfCurve = { value: 0, slope: 0 };
  const from = new Float64Array(shared).fill(Number.POSITIVE_INFINITY);
  const to = new Float64Array(shared).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < n; i++) {
    const cell = cells[samples.cell[i]];
    curveInto(point, cell.curve, samples.time[i] + cell.offset);
    first[i] = point.value > 0 && samples.speed[i] > 0 ? Math.log(point.value / samples.speed[i]) : Number.NaN;
    if (Number.isNaN(first[i])) continue;
    from[cell.shared] = Math.min(from[cell.shared], samples.time[i]);
    to[cell.shared] = Math.max(to[cell.shared], samples.time[i]);
  }
  const gears = ratioClusters(first).map((cluster) => cluster.middle);
  if (gears.length === 0) return undefined;
  const state = new Float64Array(shared + 5 + gears.length);
  const prior = { value: new Float64Array(state.length), weight: new Float64Array(state.length) };
  const hold = (j: number, value: number, uncertainty: number): void => {
    state[j] = value;
    prior.value[j] = value;
    prior.weight[j] = 1 / uncertainty ** 2;
  };
  for (let j = 0; j < shared; j++) {
    const cell = cells.find((candidate) => candidate.shared === j);
    hold(j, cell?.offset ?? 0, options.fixedOffset === true ? 1e-9 : OFFSET_PRIOR);
  }
  const rate = options.rate ?? { value: 0, uncertainty: 0.05 };
  hold(shared, 1e3 * rate.value, 1e3 * rate.uncertainty);
  if (options.fixedRate !== undefined) hold(shared, 1e3 * options.fixedRate, 1e-9);
  const { growth = GROWTH_PRIOR, creep = CREEP_PRIOR, acceleration = ACCELERATION_PRIOR } = options;
  hold(shared + 1, 1e6 * growth.value, 1e6 * growth.uncertainty);
  hold(shared + 2, 1e6 * creep.value, 1e6 * creep.uncertainty);
  hold(shared + 3, 1e3 * acceleration.value, 1e3 * acceleration.uncertainty);
  hold(shared + 4, SECOND_ORDER_PRIOR.value, SECOND_ORDER_PRIOR.uncertainty);
  for (let m = 0; m < gears.length; m++) hold(shared + 5 + m, gears[m], 1);
  return {
    samples,
    cells,
    options,
    middles: from.map((start, k) => (Number.isFinite(start) ? (start + to[k]) / 2 : 0)),
    shared,
    gears,
    state,
    prior,
    gear: new Int32Array(n),
    residuals: new Float64Array(n),
    sensitivity: new Float64Array(n),
    weights: new Float64Array(n),
    scale: 0.02,
  };
}

function residualsInto(work: Workspace): void {
  const { samples, cells, state, shared, gears } = work;
  const point: PointOfCurve = { value: 0, slope: 0 };
  for (let i = 0; i < samples.time.length; i++) {
    const cell = cells[samples.cell[i]];
    const v = samples.speed[i];
    const t = samples.time[i];
    const te = t + state[cell.shared] + 1e-3 * state[shared] * (t - work.middles[cell.shared]);
    curveInto(point, cell.wide, te);
    // creep follows the force at once: these edges are what tells an offset from creep
    const edge = 1e-6 * state[shared + 2] * samples.forceSlope[i];
    work.sensitivity[i] =
      samples.ownShare * (samples.slope[i] + edge) + ((1 - samples.ownShare) * point.slope) / point.value;
    curveInto(point, cell.curve, te);
    work.residuals[i] = Number.NaN;
    if (!(point.value > 0) || !(v > 0) || !Number.isFinite(work.sensitivity[i])) continue;
    const creep = 1e-6 * state[shared + 2] * samples.force[i];
    const slip = creep + state[shared + 4] * creep * creep;
    const bend = Math.log1p(slip) - Math.log1p(-1e-6 * state[shared + 1] * (v * (1 + slip)) ** 2);
    const rest = Math.log(point.value / v) - bend - 1e-3 * state[shared + 3] * samples.acceleration[i];
    let nearest = 0;
    for (let m = 1; m < gears.length; m++) {
      if (Math.abs(rest - state[shared + 5 + m]) < Math.abs(rest - state[shared + 5 + nearest])) nearest = m;
    }
    work.gear[i] = nearest;
    work.residuals[i] = rest - state[shared + 5 + nearest];
  }
}

/** Wide at first, then as narrow as the residuals themselves allow. */
function weightsInto(work: Workspace, step: number): void {
  const inside: number[] = [];
  const reach = step < 2 ? 0.08 : 0.05;
  for (const r of work.residuals) if (Math.abs(r) < reach) inside.push(Math.abs(r));
  inside.sort((a, b) => a - b);
  const middle = inside[inside.length >> 1] ?? 0;
  work.scale = Math.max(1e-4, 1.4826 * middle);
  const cut = step < 2 ? reach : Math.min(reach, 4.685 * work.scale);
  for (let i = 0; i < work.weights.length; i++) {
    const u = work.residuals[i] / cut;
    work.weights[i] = Math.abs(u) < 1 ? (1 - u * u) ** 2 : 0;
  }
}

interface Equations {
  readonly matrix: Symmetric;
  readonly gradient: Float64Array;
  readonly meat: Symmetric;
  readonly used: number;
  readonly variance: number;
}

function rowInto(row: Float64Array, work: Workspace, i: number): void {
  const { samples, shared } = work;
  row.fill(0);
  const s = -work.sensitivity[i];
  row[work.cells[samples.cell[i]].shared] = s;
  row[shared] = 1e-3 * s * (samples.time[i] - work.middles[work.cells[samples.cell[i]].shared]);
  const grown = 1e-6 * samples.speed[i] ** 2;
  const crept = 1e-6 * samples.force[i];
  row[shared + 1] = grown / (1 - grown * work.state[shared + 1]);
  const linear = crept * work.state[shared + 2];
  row[shared + 2] = (crept * (1 + 2 * work.state[shared + 4] * linear)) / (1 + linear);
  row[shared + 4] = linear * linear;
  row[shared + 3] = 1e-3 * samples.acceleration[i];
  row[shared + 5 + work.gear[i]] = 1;
}

function normalEquations(work: Workspace): Equations {
  const n = work.state.length;
  const matrix = symmetric(n);
  const meat = symmetric(n);
  const gradient = new Float64Array(n);
  const row = new Float64Array(n);
  let used = 0;
  const inflation = blockInflation(work);
  const information = 1 / (work.scale ** 2 * inflation);
  const block = new Float64Array(n);
  let blockEnd = Number.NEGATIVE_INFINITY;
  const close = (): void => {
    for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) meat.data[a * n + b] += block[a] * block[b];
    block.fill(0);
  };
  for (let i = 0; i < work.weights.length; i++) {
    const w = work.weights[i];
    if (w === 0) continue;
    if (work.samples.time[i] > blockEnd || work.samples.time[i] < blockEnd - 2 * BLOCK) {
      close();
      blockEnd = work.samples.time[i] + BLOCK;
    }
    used++;
    rowInto(row, work, i);
    for (let a = 0; a < n; a++) {
      if (row[a] === 0) continue;
      const wa = w * row[a] * information;
      gradient[a] += wa * work.residuals[i];
      block[a] += wa * work.residuals[i];
      for (let b = 0; b < n; b++) matrix.data[a * n + b] += wa * row[b];
    }
  }
  close();
  for (let a = 0; a < n; a++) {
    matrix.data[a * n + a] += work.prior.weight[a];
    meat.data[a * n + a] += work.prior.weight[a];
    gradient[a] += work.prior.weight[a] * (work.prior.value[a] - work.state[a]);
  }
  return { matrix, gradient, meat, used, variance: work.scale ** 2 };
}

/** How much less the samples know than if their residuals were independent: from the variance of block means. ≥ 1. */
function blockInflation(work: Workspace): number {
  let blocks = 0;
  let squares = 0;
  let all = 0;
  let count = 0;
  let sum = 0;
  let weight = 0;
  let blockEnd = Number.NEGATIVE_INFINITY;
  const close = (): void => {
    if (weight > 0) {
      squares += sum ** 2;
      blocks++;
    }
    sum = 0;
    weight = 0;
  };
  for (let i = 0; i < work.weights.length; i++) {
    const w = work.weights[i];
    if (w === 0) continue;
    if (work.samples.time[i] > blockEnd || work.samples.time[i] < blockEnd - 2 * BLOCK) {
      close();
      blockEnd = work.samples.time[i] + BLOCK;
    }
    sum += w * work.residuals[i];
    weight += w * w;
    all += (w * work.residuals[i]) ** 2;
    count++;
  }
  close();
  return blocks > 3 && count > blocks && all > 0 ? Math.max(1, squares / all) : 1;
}

function finished(work: Workspace, equations: Equations): SpeedFit | undefined {
  const invers = inverse(equations.matrix);
  if (invers === undefined) return undefined;
  const { n } = invers;
  const { shared, state } = work;
  const covariance = symmetric(n);
  const half = symmetric(n);
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++)
      for (let k = 0; k < n; k++) half.data[a * n + b] += invers.data[a * n + k] * equations.meat.data[k * n + b];
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++)
      for (let k = 0; k < n; k++) covariance.data[a * n + b] += half.data[a * n + k] * invers.data[k * n + b];
  const variance = (a: number): number => CAUTION ** 2 * Math.max(covariance.data[a * n + a], invers.data[a * n + a]);
  const leading = symmetric(shared + 1);
  const unit = (a: number): number => (a === shared ? 1e-3 : 1);
  for (let a = 0; a <= shared; a++)
    for (let b = 0; b <= shared; b++)
      leading.data[a * (shared + 1) + b] = unit(a) * unit(b) * (a === b ? variance(a) : invers.data[a * n + b]);
  let seen = 0;
  let explained = 0;
  for (let i = 0; i < work.residuals.length; i++) {
    if (Number.isNaN(work.residuals[i])) continue;
    seen++;
    if (Math.abs(work.residuals[i]) < 0.03) explained++;
  }
  return {
    middles: work.middles,
    offsets: state.slice(0, shared),
    offsetUncertainties: Float64Array.from({ length: shared }, (_, a) => Math.sqrt(variance(a))),
    covariance: leading,
    rate: 1e-3 * state[shared],
    rateUncertainty: 1e-3 * Math.sqrt(variance(shared)),
    ratios: work.gears.map((_, m) => Math.exp(state[shared + 5 + m])),
    growth: 1e-6 * state[shared + 1],
    growthUncertainty: 1e-6 * Math.sqrt(variance(shared + 1)),
    creep: 1e-6 * state[shared + 2],
    creepUncertainty: 1e-6 * Math.sqrt(variance(shared + 2)),
    residuals: work.residuals,
    weights: work.weights,
    sensitivity: work.sensitivity,
    spread: work.scale,
    explained: seen > 0 ? explained / seen : 0,
  };
}
