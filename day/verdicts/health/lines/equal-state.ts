import {
  HUBER_TUNING,
  householderQr,
  inverseNormalMatrix,
  leastSquaresSolution,
  median,
} from '../../../../core/numerics/index.ts';
import type { Measured } from '../../../../core/quantities/index.ts';

/** One value of a channel in one step of engine speed of one pull. states: as long as the rules, the same quantities in every cell. */
export interface StateCell {
  readonly key: string;
  readonly step: number;
  readonly response: number;
  readonly states: readonly number[];
}

/** How the response follows one state: slope believed before, with its standard uncertainty [response per state]. */
export interface StateRule {
  readonly name: string;
  readonly slope: Measured;
}

export interface EqualStateInput {
  readonly cells: readonly StateCell[];
  readonly rules: readonly StateRule[];
  /**
   * baseline: levels count from the mean of these pulls and nothing is believed of any level. random: every level is believed to lie about
   * zero with this deviation, so that the pulls also tell of the slopes.
   */
  readonly anchor: { readonly baseline: readonly string[] } | { readonly random: number };
  /** Least standard deviation of a single cell [response]. */
  readonly noise: number;
}

/**
 * response = shape(step) + level(pull) + Σ slope·(state − reference).
 * keys: pulls in the order of the cells. levels: as long as keys. covariance: keys × keys, of the levels. slopes: as the rules.
 * noise: of a cell. parameters and full covariance: steps, then keys, then rules.
 */
export interface EqualState {
  readonly keys: readonly string[];
  readonly steps: readonly number[];
  readonly levels: Float64Array;
  readonly covariance: Float64Array;
  readonly slopes: readonly Measured[];
  readonly references: readonly number[];
  readonly noise: number;
  readonly cells: ReadonlyMap<string, number>;
  readonly parameters: Float64Array;
  readonly full: Float64Array;
}

/** Cells of one pull share their smoothing, its slow sensors and its own gentle waviness: about this many are worth one. @source our default */
export const SHARED_CELLS = 10;
/** Hold of a baseline's mean at zero, and of what nothing is believed of, in standard deviations of a cell. @source our default: far from both */
const TIGHT = 1e-3;
const WIDE = 1e4;
/** A state that differs by less than rounding does not differ, in its own unit. */
const NEVER = 1e-9;
/** The noise has settled when it changes by less than this [1]. @source our default */
const SETTLED = 0.03;

/**
 * Levels of several pulls at equal state: one shape over engine speed for all of them, believed slopes for what else differs, and one level
 * for each pull. Single cells far off (a fault's window, a spike) hardly count.
 *
 * Undefined with fewer than two pulls that share a step.
 *
 * @source  analysis of covariance: Montgomery, Design and Analysis of Experiments, 15.3; beliefs as further observations:
 *          Gelman et al., Bayesian Data Analysis, 3rd ed., 14.8; Huber weights: Huber & Ronchetti, 2nd ed., 7.8
 */
export function equalState(input: EqualStateInput): EqualState | undefined {
  const cells = input.cells.filter(({ response, states }) => [response, ...states].every(Number.isFinite));
  const keys = [...new Set(cells.map(({ key }) => key))];
  const steps = [...new Set(cells.map(({ step }) => step))].sort((a, b) => a - b);
  if (keys.length < 2 || steps.length === 0) return undefined;
  const references = input.rules.map((_, j) =>
    median(
      cells.map(({ states }) => states[j]),
      'skip',
    ),
  );
  const layout: Layout = { cells, keys, steps, references, input };
  let noise = input.noise;
  let weights = new Float64Array(cells.length).fill(1);
  let fit = solved(layout, noise, weights);
  for (let pass = 0; pass < 4; pass++) {
    const residuals = residualsOf(layout, fit.parameters);
    const spread = Math.max(input.noise, spreadOf(residuals));
    if (pass > 0 && Math.abs(spread / noise - 1) < SETTLED) break;
    noise = spread;
    weights = residuals.map((r) => Math.min(1, (HUBER_TUNING * noise) / Math.abs(r || noise)));
    fit = solved(layout, noise, weights);
  }
  return described(layout, fit, noise);
}

interface Layout {
  readonly cells: readonly StateCell[];
  readonly keys: readonly string[];
  readonly steps: readonly number[];
  readonly references: readonly number[];
  readonly input: EqualStateInput;
}

interface Solved {
  readonly parameters: Float64Array;
  readonly full: Float64Array;
}

function solved(layout: Layout, noise: number, weights: Float64Array): Solved {
  const { cells, keys, steps, references, input } = layout;
  const columns = steps.length + keys.length + input.rules.length;
  const rows: { values: Float64Array; target: number }[] = [];
  const single = 1 / (noise * Math.sqrt(SHARED_CELLS));
  cells.forEach((cell, i) => {
    const values = designRow(layout, cell);
    const weight = single * Math.sqrt(weights[i]);
    rows.push({ values: values.map((value) => value * weight), target: cell.response * weight });
  });
  const centre = median(
    cells.map(({ response }) => response),
    'skip',
  );
  const believe = (column: number, value: number, spread: number): void => {
    const values = new Float64Array(columns);
    values[column] = 1 / spread;
    rows.push({ values, target: value / spread });
  };
  for (const k of steps.keys()) believe(k, centre, WIDE * noise);
  const levelSpread = 'random' in input.anchor ? input.anchor.random : WIDE * noise;
  for (const e of keys.keys()) believe(steps.length + e, 0, levelSpread);
  input.rules.forEach(({ slope }, j) => {
    const scale = Math.max(...cells.map(({ states }) => Math.abs(states[j] - references[j])));
    // a state that never differed tells nothing of its slope: it stays as believed
    const least = scale > NEVER ? (1e-6 * noise) / scale : 1e-6 * noise;
    believe(steps.length + keys.length + j, slope.value, Math.max(slope.standardUncertainty, least));
  });
  if ('baseline' in input.anchor) rows.push(baselineRow(layout, input.anchor.baseline, columns));
  const matrix = { rows: rows.length, columns, values: new Float64Array(rows.length * columns) };
  for (const [i, { values }] of rows.entries()) matrix.values.set(values, i * columns);
  const qr = householderQr(matrix);
  const target = Float64Array.from(rows, (row) => row.target);
  return { parameters: leastSquaresSolution(qr, target), full: inverseNormalMatrix(qr) };

  function baselineRow({ keys: all }: Layout, baseline: readonly string[], width: number) {
    const values = new Float64Array(width);
    const members = all.filter((key) => baseline.includes(key));
    const weight = 1 / (TIGHT * noise * Math.max(1, members.length));
    for (const key of members) values[steps.length + all.indexOf(key)] = weight;
    return { values, target: 0 };
  }
}

/** One row of the design: shape of its step, level of its pull, distances of its states from the reference. */
function designRow({ keys, steps, references }: Layout, { key, step, states }: StateCell): Float64Array {
  const row = new Float64Array(steps.length + keys.length + references.length);
  row[steps.indexOf(step)] = 1;
  row[steps.length + keys.indexOf(key)] = 1;
  references.forEach((reference, j) => {
    row[steps.length + keys.length + j] = states[j] - reference;
  });
  return row;
}

function residualsOf(layout: Layout, parameters: Float64Array): Float64Array {
  return Float64Array.from(layout.cells, (cell) => {
    const row = designRow(layout, cell);
    return cell.response - row.reduce((sum, value, i) => sum + value * parameters[i], 0);
  });
}

/** Robust deviation of the residuals. @source 1.4826·median|r| for a normal distribution */
function spreadOf(residuals: Float64Array): number {
  return 1.4826 * median(residuals.map(Math.abs), 'skip');
}

function described({ cells, keys, steps, references, input }: Layout, { parameters, full }: Solved, noise: number) {
  const columns = parameters.length;
  const first = steps.length;
  const covariance = new Float64Array(keys.length ** 2);
  keys.forEach((_, a) => {
    keys.forEach((_key, b) => {
      covariance[a * keys.length + b] = full[(first + a) * columns + first + b];
    });
  });
  const slopes = input.rules.map((_, j): Measured => {
    const at = first + keys.length + j;
    return { value: parameters[at], standardUncertainty: Math.sqrt(full[at * columns + at]) };
  });
  const counts = new Map(keys.map((key) => [key, cells.filter((cell) => cell.key === key).length]));
  return {
    ...{ keys, steps, covariance, slopes, references, noise, cells: counts, parameters, full },
    levels: parameters.slice(first, first + keys.length),
  };
}

/** What a state makes the response of one cell [response], with its covariance row by row of the cells asked; steps never seen are left out. */
export function expectedCells(
  state: EqualState,
  cells: readonly StateCell[],
): { readonly cells: readonly StateCell[]; readonly expected: Float64Array; readonly meanUncertainty: number } {
  const known = cells.filter(
    ({ step, response, states }) => state.steps.includes(step) && [response, ...states].every(Number.isFinite),
  );
  const columns = state.parameters.length;
  const mean = new Float64Array(columns);
  const expected = Float64Array.from(known, (cell) => {
    const row = new Float64Array(columns);
    row[state.steps.indexOf(cell.step)] = 1;
    state.references.forEach((reference, j) => {
      row[state.steps.length + state.keys.length + j] = cell.states[j] - reference;
    });
    row.forEach((value, i) => {
      mean[i] += value / known.length;
    });
    return row.reduce((sum, value, i) => sum + value * state.parameters[i], 0);
  });
  let variance = 0;
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < columns; j++) variance += mean[i] * mean[j] * state.full[i * columns + j];
  }
  return { cells: known, expected, meanUncertainty: Math.sqrt(Math.max(0, variance)) };
}
