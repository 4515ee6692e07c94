import { type BurnedState, burnedState } from './burned-gas.ts';
import { type Curve, cubicSpline } from './cubic-spline.ts';
import type { Atoms, Composition } from './equilibrium.ts';
import { solveInto } from './small-system.ts';

/**
 * Burned gas over enthalpy and pressure, as polynomials per cell.
 *
 * Enthalpy counts from the reference enthalpy of the mixture, so that equal places mean nearly equal temperatures in all mixtures.
 * Cell i covers one step of enthalpy, ξ = 0 … 1; η = −1 … 1 covers p^(−1/4), whose square slight dissociation goes with. In each cell
 * stand 16 coefficients of R·T [J/kg], then 12 of T [K]: coefficient (k, m) at 4·k + m belongs to η^k·ξ^m. Tables of one grid can be
 * blended coefficient by coefficient.
 */
export interface TableGrid {
  /** Above the table's own reference enthalpy [J/kg]. */
  readonly firstEnthalpy: number;
  readonly enthalpyStep: number;
  readonly cells: number;
}

/** The same for every mixture: about 250 … 3600 K above the reference. @source our default */
export const GRID: TableGrid = { firstEnthalpy: -1.0e6, enthalpyStep: 1.25e5, cells: 40 };

/** @source our default: flames burn between these; smooth beyond */
export const PRESSURE_RANGE = { low: 0.8e5, high: 300e5 } as const;
const LARGEST_ROOT = PRESSURE_RANGE.low ** -0.25;
const LEAST_ROOT = PRESSURE_RANGE.high ** -0.25;
/** η = (p^(−1/4) − centre)/half. */
export const ROOT_CENTRE = (LARGEST_ROOT + LEAST_ROOT) / 2;
export const ROOT_HALF = (LARGEST_ROOT - LEAST_ROOT) / 2;

/** Coefficients of one cell, and where those of temperature begin. */
export const CELL = 28;
export const CELL_TEMPERATURE = 16;
/** Powers of η for R·T, and for T, which only heat loss asks for. */
const ENERGY_TERMS = 4;
const TEMPERATURE_TERMS = 3;

/** Lowest, highest temperature and step of the states computed [K]. @source our default */
const TEMPERATURES = { first: 200, last: 4000, step: 50 } as const;

/**
 * One table. Cost: some hundred equilibria, a few milliseconds.
 *
 * @param reference  enthalpy of the mixture from which the grid counts [J/kg]
 * @source  states of gas/burned-gas.ts, cubic in h, polynomials in p^(−1/4) through Chebyshev nodes
 */
export function burnedTable(atoms: Atoms, reference: number): Float64Array {
  const table = new Float64Array(GRID.cells * CELL);
  addTerms(table, { atoms, reference, terms: ENERGY_TERMS, offset: 0 });
  addTerms(table, { atoms, reference, terms: TEMPERATURE_TERMS, offset: CELL_TEMPERATURE });
  return table;
}

interface Terms {
  readonly atoms: Atoms;
  readonly reference: number;
  readonly terms: number;
  readonly offset: number;
}

function addTerms(table: Float64Array, { atoms, reference, terms, offset }: Terms): void {
  const nodes = chebyshevNodes(terms);
  const inverse = powersFromNodes(nodes);
  for (let node = 0; node < terms; node++) {
    const states = isobar(atoms, (ROOT_CENTRE + ROOT_HALF * nodes[node]) ** -4);
    const values =
      offset === 0
        ? states.map((state) => state.gasEnergy)
        : states.map((_, i) => TEMPERATURES.first + i * TEMPERATURES.step);
    const spline = cubicSpline(
      Float64Array.from(states, (state) => state.enthalpy - reference),
      Float64Array.from(values),
    );
    addColumn(table, { weights: inverse.subarray(node * terms, (node + 1) * terms), spline, offset });
  }
}

/** @source zeros of a Chebyshev polynomial: nearly the best nodes for a polynomial over −1 … 1 */
function chebyshevNodes(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => -Math.cos((Math.PI * (i + 0.5)) / count));
}

/** Row n: coefficients in powers of η of the polynomial that is 1 at node n and 0 at the others. */
function powersFromNodes(nodes: Float64Array): Float64Array {
  const count = nodes.length;
  const inverse = new Float64Array(count * count);
  for (let n = 0; n < count; n++) {
    const matrix = new Float64Array(count * count);
    for (let i = 0; i < count; i++) for (let k = 0; k < count; k++) matrix[i * count + k] = nodes[i] ** k;
    const right = new Float64Array(count);
    right[n] = 1;
    solveInto(right, matrix);
    inverse.set(right, n * count);
  }
  return inverse;
}

function isobar(atoms: Atoms, pressure: number): readonly BurnedState[] {
  const states: BurnedState[] = [];
  let start: Composition | undefined;
  for (let T = TEMPERATURES.first; T <= TEMPERATURES.last; T += TEMPERATURES.step) {
    const state = burnedState(atoms, { temperature: T, pressure, ...(start ? { start } : {}) });
    start = state.composition;
    states.push(state);
  }
  return states;
}

interface Column {
  readonly weights: Float64Array;
  readonly spline: Curve;
  readonly offset: number;
}

/** Cubics of a spline whose knots are the borders of the cells, so that the table has no bends there; spread over the powers of η. */
function addColumn(table: Float64Array, { weights, spline, offset }: Column): void {
  const { firstEnthalpy, enthalpyStep: step, cells } = GRID;
  const knots = Float64Array.from({ length: cells + 1 }, (_, i) => firstEnthalpy + i * step);
  const smooth = cubicSpline(
    knots,
    knots.map((h) => spline(h).value),
  );
  for (let cell = 0; cell < cells; cell++) {
    const a = smooth(knots[cell]);
    const b = smooth(knots[cell + 1]);
    const [da, db] = [a.slope * step, b.slope * step];
    const rise = b.value - a.value;
    const cubic = [a.value, da, 3 * rise - 2 * da - db, da + db - 2 * rise];
    for (let k = 0; k < weights.length; k++) {
      for (let m = 0; m < 4; m++) table[cell * CELL + offset + 4 * k + m] += weights[k] * cubic[m];
    }
  }
}
