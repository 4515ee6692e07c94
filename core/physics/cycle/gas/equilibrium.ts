import { NASA_SPECIES, type NasaSpecies } from './nasa-polynomials.ts';
import { solveInto } from './small-system.ts';
import { MOLAR_GAS_CONSTANT, speciesEnthalpy, speciesEntropy } from './species.ts';

/** Species of burned gas; argon, which takes no part, is counted apart. */
export const BURNED_SPECIES = ['N2', 'O2', 'CO2', 'H2O', 'CO', 'H2', 'OH', 'NO', 'O', 'H', 'N'] as const;

const SPECIES: readonly NasaSpecies[] = BURNED_SPECIES.map((name) => NASA_SPECIES[name]);
const COUNT = SPECIES.length;
/** Reference pressure of the polynomials [Pa]. @source NASA TM-4513 */
const REFERENCE_PRESSURE = 1e5;

/** Amounts in one kilogram of mixture [mol/kg]: C, H, O, N atoms, and argon. */
export interface Atoms {
  readonly carbon: number;
  readonly hydrogen: number;
  readonly oxygen: number;
  readonly nitrogen: number;
  readonly argon: number;
}

/** Amounts of {@link BURNED_SPECIES} [mol/kg], all gas with argon [mol/kg], and whether the last step was small. */
export interface Composition {
  readonly amounts: Float64Array;
  readonly total: number;
  readonly converged: boolean;
}

export interface EquilibriumState {
  /** [K] */
  readonly temperature: number;
  /** [Pa] */
  readonly pressure: number;
  /** A composition near the answer; default: complete combustion. */
  readonly start?: Composition;
}

/**
 * Chemical equilibrium of burned gas at given temperature and pressure.
 *
 * Minimum of the Gibbs energy with the atoms held: Newton steps on ln n of every species, on ln n of the whole and on four
 * element potentials, which leaves a 5 × 5 system per step.
 *
 * @valid   600 … 5000 K; no soot, no methane: λ above about 0.5
 * @source  method: Gordon and McBride, NASA RP-1311 (1994), chapters 2 and 3 (from memory), with its step control
 */
export function equilibrium(atoms: Atoms, { temperature: T, pressure, start }: EquilibriumState): Composition {
  const wanted = [atoms.carbon, atoms.hydrogen, atoms.oxygen, atoms.nitrogen];
  const potentials = SPECIES.map(
    (s) =>
      speciesEnthalpy(s, T) / (MOLAR_GAS_CONSTANT * T) -
      speciesEntropy(s, T) / MOLAR_GAS_CONSTANT +
      Math.log(pressure / REFERENCE_PRESSURE),
  );
  const logs = (start ?? completeCombustion(atoms)).amounts.map((n) => Math.log(Math.max(n, TRACE)));
  const state = { logs, total: Math.log(amountOf(logs) + atoms.argon) };
  const mu = new Float64Array(COUNT);
  const matrix = new Float64Array(25);
  const right = new Float64Array(5);
  let converged = false;
  for (let step = 0; step < 200 && !converged; step++) {
    for (let j = 0; j < COUNT; j++) mu[j] = potentials[j] + state.logs[j] - state.total;
    fillSystem({ logs: state.logs, mu, matrix, right, wanted, total: Math.exp(state.total), argon: atoms.argon });
    solveInto(right, matrix);
    converged = moved(state, mu, right);
  }
  const amounts = state.logs.map(Math.exp);
  return { amounts, total: amountOf(state.logs) + atoms.argon, converged };
}

/** Amount below which a species does not count as present at the start [mol/kg]. @source our default */
const TRACE = 1e-9;

function amountOf(logs: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < COUNT; j++) sum += Math.exp(logs[j]);
  return sum;
}

interface System {
  readonly logs: Float64Array;
  readonly mu: Float64Array;
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  readonly wanted: readonly number[];
  readonly total: number;
  readonly argon: number;
}

function fillSystem({ logs, mu, matrix, right, wanted, total, argon }: System): void {
  matrix.fill(0);
  for (let i = 0; i < 4; i++) right[i] = wanted[i];
  right[4] = total - argon;
  matrix[24] = -total;
  for (let j = 0; j < COUNT; j++) {
    const n = Math.exp(logs[j]);
    const atoms = SPECIES[j].atoms;
    for (let i = 0; i < 4; i++) {
      if (atoms[i] === 0) continue;
      for (let k = 0; k < 4; k++) matrix[i * 5 + k] += atoms[i] * atoms[k] * n;
      matrix[i * 5 + 4] += atoms[i] * n;
      matrix[20 + i] += atoms[i] * n;
      right[i] += atoms[i] * n * (mu[j] - 1);
    }
    matrix[24] += n;
    right[4] += n * (mu[j] - 1);
  }
  // an element that is absent keeps its potential at nought
  for (let i = 0; i < 4; i++) if (matrix[i * 6] < 1e-14) matrix[i * 6] = 1;
}

/** Steps of present species up to 2 in the logarithm, of traces up to a share of 1e-4. @source NASA RP-1311, section 3.3 */
function moved(state: { logs: Float64Array; total: number }, mu: Float64Array, answer: Float64Array): boolean {
  const change = new Float64Array(COUNT);
  let largest = 5 * Math.abs(answer[4]);
  let limit = 1;
  let weighted = 0;
  for (let j = 0; j < COUNT; j++) {
    const atoms = SPECIES[j].atoms;
    change[j] = answer[4] - mu[j];
    for (let i = 0; i < 4; i++) change[j] += atoms[i] * answer[i];
    const share = state.logs[j] - state.total;
    weighted = Math.max(weighted, Math.abs(change[j]) * Math.exp(share));
    if (share > -18.42) largest = Math.max(largest, Math.abs(change[j]));
    else if (change[j] > 0) limit = Math.min(limit, Math.abs((-share - 9.2103404) / (change[j] - answer[4])));
  }
  const part = Math.min(1, limit, 2 / Math.max(largest, 1e-300));
  for (let j = 0; j < COUNT; j++) state.logs[j] = Math.max(state.logs[j] + part * change[j], -100);
  state.total += part * answer[4];
  return part === 1 && weighted < 1e-10 && Math.abs(answer[4]) < 1e-10;
}

/**
 * Products without dissociation: CO₂, H₂O, O₂ when lean; when rich the oxygen left over by CO and H₂O is shared evenly.
 * Only a start for the search.
 */
export function completeCombustion({ carbon, hydrogen, oxygen, nitrogen, argon }: Atoms): Composition {
  const amounts = new Float64Array(COUNT).fill(TRACE);
  const water = hydrogen / 2;
  const lack = Math.max(0, 2 * carbon + water - oxygen);
  const carbonMonoxide = Math.min(carbon, lack * 0.6);
  const hydrogenGas = Math.min(water, lack - carbonMonoxide);
  amounts[0] = nitrogen / 2;
  amounts[1] = Math.max(TRACE, (oxygen - 2 * carbon - water) / 2);
  amounts[2] = Math.max(TRACE, carbon - carbonMonoxide);
  amounts[3] = Math.max(TRACE, water - hydrogenGas);
  amounts[4] = Math.max(TRACE, carbonMonoxide);
  amounts[5] = Math.max(TRACE, hydrogenGas);
  let total = argon;
  for (const n of amounts) total += n;
  return { amounts, total, converged: true };
}

/** Enthalpy of a composition at T with formation [J/kg]. @source mixture of ideal gases */
export function compositionEnthalpy({ amounts }: Composition, T: number, argon: number): number {
  let h = argon * speciesEnthalpy(NASA_SPECIES.Ar, T);
  for (let j = 0; j < COUNT; j++) h += amounts[j] * speciesEnthalpy(SPECIES[j], T);
  return h;
}

/** One polynomial for a whole composition [mol/kg × coefficient]: first seven below 1000 K, then seven above. */
export function compositionPolynomial({ amounts }: Composition, argon: number): Float64Array {
  const sum = new Float64Array(14);
  for (let j = 0; j <= COUNT; j++) {
    const species = j < COUNT ? SPECIES[j] : NASA_SPECIES.Ar;
    const n = j < COUNT ? amounts[j] : argon;
    for (let k = 0; k < 7; k++) {
      sum[k] += n * species.low[k];
      sum[7 + k] += n * species.high[k];
    }
  }
  return sum;
}
