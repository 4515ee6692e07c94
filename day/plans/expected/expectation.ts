import { backwardSolution, cholesky, forwardSolution } from '../../../core/numerics/index.ts';
import { LINE_KINDS } from '../model/line-kinds.ts';
import { discrepancy } from '../model/whitening.ts';

/**
 * One point of one pull. order: place of the pull in the day. residual: logarithm of what was measured over what the engine gives before today
 * teaches it; NaN where it is asked for. features: what moves it, each in units of its prior spread.
 */
export interface Row {
  readonly pull: string;
  readonly order: number;
  readonly share: number;
  readonly pressure: number;
  readonly unlogged: number;
  readonly residual: number;
  readonly features: ReadonlyMap<string, number>;
}

/** repeat: of a pull; wander: of the car and the hall per root of an entry of the day; both relative [1]. */
export interface Scatter {
  readonly repeat: number;
  readonly wander: number;
}

/** What the earlier pulls taught. */
export interface Learnt {
  /** Expected residual of each row asked [1]. */
  readonly expected: (rows: readonly Row[]) => readonly number[];
  /** Standard uncertainty of the mean over the rows [1], of all that acts on them or of some features alone. */
  readonly uncertainty: (rows: readonly Row[], only?: ReadonlySet<string>) => number;
  /** Most probable shift of a feature in units of its prior spread. */
  readonly shift: (feature: string) => number;
}

/** Scatter of a point about its pull [1]. @source our default: cells of a curve at one bandwidth */
const NOISE = 0.005;
/** Waviness of a pull's own, and the share of the redline over which it stays the same [1]: else the course of one pull would teach slopes. @source our default */
const WAVY = { share: 0.01, reach: 0.12 } as const;

function ownPart(a: Row, b: Row): number {
  return WAVY.share ** 2 * Math.exp(-(((a.share - b.share) / WAVY.reach) ** 2) / 2);
}

/**
 * What is expected of further points after these rows: the most probable engine, and how sure it is.
 *
 *     C = F·Fᵀ + model²·exp(−½·d²) + shape²·exp(−½·s²) + repeat² and wavy²·exp(−½·w²) within a pull + wander²·min(i, j) + noise²,    E = C*·C⁻¹·r,    U² = C** − C*·C⁻¹·C*ᵀ
 *
 * Wander is what goes slowly through a day. It belongs to the pulls that were made and is not expected of the next: so the level leans to that
 * of the first pulls, and a slow loss is hardly learnt as if it were the engine.
 *
 * @source  Gaussian processes: Rasmussen and Williams, 2006, equations 2.23 and 2.24 (from memory); random walk as drift: our default
 */
export function learntFrom(rows: readonly Row[], { repeat, wander }: Scatter): Learnt | undefined {
  const n = rows.length;
  const start = Math.min(...rows.map(({ order }) => order));
  const dense = denseOf(rows);
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const [a, b] = [rows[i], rows[j]];
      const within = a.pull === b.pull ? repeat ** 2 + ownPart(a, b) + a.unlogged * b.unlogged : 0;
      const slow = wander ** 2 * (Math.min(a.order, b.order) - start);
      matrix[i * n + j] = dense.product(i, j) + modelPart(a, b) + within + slow;
    }
    matrix[i * n + i] += NOISE ** 2;
  }
  const lower = cholesky(matrix, n);
  if (!lower) return undefined;
  const white = forwardSolution(
    lower,
    rows.map(({ residual }) => residual),
  );
  const weights = backwardSolution(lower, white);
  const crossed = (row: Row, only?: ReadonlySet<string>): Float64Array =>
    Float64Array.from(rows, (other) => shared(row, other, only) + (only ? 0 : modelPart(row, other)));
  return {
    expected: (asked) => asked.map((row) => crossed(row).reduce((sum, c, i) => sum + c * weights[i], 0)),
    uncertainty: (asked, only) => uncertaintyOf(asked, { lower, crossed, only }),
    shift: (feature) => rows.reduce((sum, { features }, i) => sum + (features.get(feature) ?? 0) * weights[i], 0),
  };
}

function uncertaintyOf(
  asked: readonly Row[],
  {
    lower,
    crossed,
    only,
  }: {
    readonly lower: Float64Array;
    readonly crossed: (row: Row, only?: ReadonlySet<string>) => Float64Array;
    readonly only: ReadonlySet<string> | undefined;
  },
): number {
  const m = asked.length;
  let before = 0;
  for (const a of asked) for (const b of asked) before += shared(a, b, only) + (only ? 0 : modelPart(a, b));
  const unlogged = only ? 0 : (asked.reduce((sum, row) => sum + row.unlogged, 0) / m) ** 2;
  const columns = asked.map((row) => crossed(row, only));
  const mean = Float64Array.from(columns[0] ?? [], (_, i) => columns.reduce((sum, column) => sum + column[i], 0) / m);
  const told = forwardSolution(lower, mean).reduce((sum, x) => sum + x * x, 0);
  return Math.sqrt(Math.max(0, before / (m * m) - told) + unlogged);
}

/**
 * What the model itself may have wrong at two places, as a calibration takes it; and the shape of torque over speed, which is learnt and not
 * believed, so that burning and gas exchange need not bend to follow it.
 */
function modelPart(a: Row, b: Row): number {
  const far = ((a.share - b.share) / SHAPE.reach) ** 2;
  return discrepancy(a, b, LINE_KINDS['engine torque'].share) + SHAPE.share ** 2 * Math.exp(-far / 2);
}

/** How far torque over speed may lie off the model [1], and the share of the redline over which that stays the same. @source our default: a tuned intake, low speeds */
const SHAPE = { share: 0.06, reach: 0.1 } as const;

function shared(a: Row, b: Row, only: ReadonlySet<string> | undefined): number {
  let sum = 0;
  for (const [name, value] of a.features) {
    if (!only || only.has(name)) sum += value * (b.features.get(name) ?? 0);
  }
  return sum;
}

/** Features of the rows side by side: products of many rows are quick. */
function denseOf(rows: readonly Row[]): { readonly product: (i: number, j: number) => number } {
  const names = [...new Set(rows.flatMap(({ features }) => [...features.keys()]))];
  const width = names.length;
  const values = new Float64Array(rows.length * width);
  rows.forEach(({ features }, i) => {
    names.forEach((name, k) => {
      values[i * width + k] = features.get(name) ?? 0;
    });
  });
  return {
    product: (i, j) => {
      let sum = 0;
      for (let k = 0; k < width; k++) sum += values[i * width + k] * values[j * width + k];
      return sum;
    },
  };
}
