import type { Measured } from '../../../core/quantities/index.ts';
import type { Segment } from '../segment.ts';

/** One point of a record in the gear of the pulls. logarithm: ln(engine speed/roll speed). slope: d ln v/dt [1/s]. */
export interface RatioPoint {
  readonly index: number;
  readonly time: number;
  readonly speed: number;
  readonly logarithm: number;
  readonly force: number;
  readonly acceleration: number;
  readonly slope: number;
  readonly kind: Segment['kind'] | undefined;
}

export interface RatioFit {
  readonly ratio: Measured;
  readonly growth: Measured;
  readonly creep: Measured;
  readonly spread: number;
  readonly growthMeasured: boolean;
}

export interface RatioFitOptions {
  readonly creepOf: 'force' | 'acceleration';
  /** Distance of the points [s]. */
  readonly step: number;
  /** Standard uncertainty of the alignment of both speeds [s]. */
  readonly lag: number;
}

/** Growth −1 ± 1 % of the ratio at 50 m/s; creep 0.5 ± 0.5 % per kN, or the same through 1000 kg. @source common practice, no source */
const GROWTH = { value: -4e-6, standardUncertainty: 4e-6 } as const;
const CREEP = {
  force: { value: 5e-6, standardUncertainty: 5e-6 },
  acceleration: { value: 5e-3, standardUncertainty: 5e-3 },
} as const;
/** Residuals further than this from the line keep no weight, in spreads (Tukey). @source Huber & Ronchetti, Robust Statistics */
const CUT = 4.685;
/** Residuals within this time count as one piece of evidence [s]. @source our default */
const CORRELATION_TIME = 0.5;

/**
 * ln ratio = ln k + g·v² + c·x by robust least squares with the priors above; x is force or acceleration.
 *
 * Uncertainties: of the equations with one independent residual per 0.5 s, and for the ratio the alignment's lag times the
 * mean rate of change.
 *
 * @param points at least three
 */
export function ratioFit(points: readonly RatioPoint[], options: RatioFitOptions): RatioFit {
  const creep = CREEP[options.creepOf];
  const rows = points.map((point) => {
    const x = options.creepOf === 'force' ? point.force : point.acceleration;
    return { y: point.logarithm, r: [1, point.speed ** 2 / 1e6, Number.isNaN(x) ? 0 : x * creep.value] };
  });
  const middle = [...rows.map(({ y }) => y)].sort((a, b) => a - b)[rows.length >> 1];
  const state = [middle, 1e6 * GROWTH.value, 1];
  const prior = [0, 1e6 * GROWTH.value, 1];
  const priorWeight = [0, 1 / (1e6 * GROWTH.standardUncertainty) ** 2, (creep.value / creep.standardUncertainty) ** 2];
  const evidence = Math.min(1, options.step / CORRELATION_TIME);
  let spread = 0.02;
  let covariance = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let round = 0; round < 12; round++) {
    const left = rows.map(({ y, r }) => y - r[0] * state[0] - r[1] * state[1] - r[2] * state[2]);
    const sizes = left.map((x) => Math.abs(x)).sort((a, b) => a - b);
    spread = Math.max(2e-5, 1.4826 * sizes[sizes.length >> 1]);
    const matrix = priorWeight.map((w, a) => priorWeight.map((_, b) => (a === b ? w : 0)));
    const gradient = prior.map((p, a) => priorWeight[a] * (p - state[a]));
    rows.forEach(({ r }, i) => {
      const u = left[i] / (CUT * spread);
      if (Math.abs(u) >= 1) return;
      const w = ((1 - u * u) ** 2 * evidence) / spread ** 2;
      for (let a = 0; a < 3; a++) {
        gradient[a] += w * r[a] * left[i];
        for (let b = 0; b < 3; b++) matrix[a][b] += w * r[a] * r[b];
      }
    });
    covariance = inverseOfThree(matrix);
    for (let a = 0; a < 3; a++) state[a] += covariance[a].reduce((sum, c, b) => sum + c * gradient[b], 0);
  }
  const u = covariance.map((row, a) => Math.sqrt(row[a]));
  const drift = points.reduce((sum, { slope }) => sum + slope, 0) / points.length;
  const ratio = Math.exp(state[0]);
  return {
    ratio: { value: ratio, standardUncertainty: ratio * Math.hypot(u[0], drift * options.lag) },
    growth: { value: 1e-6 * state[1], standardUncertainty: 1e-6 * u[1] },
    creep: { value: state[2] * creep.value, standardUncertainty: u[2] * creep.value },
    spread,
    growthMeasured: 1e-6 * u[1] < 0.5 * GROWTH.standardUncertainty,
  };
}

/** By cofactors, scaled so that the diagonal is one. */
function inverseOfThree(m: readonly (readonly number[])[]): number[][] {
  const s = m.map((row, a) => 1 / Math.sqrt(row[a]));
  const n = m.map((row, a) => row.map((x, b) => x * s[a] * s[b]));
  const cofactor = (a: number, b: number): number => {
    const [i, j] = [(a + 1) % 3, (a + 2) % 3];
    const [k, l] = [(b + 1) % 3, (b + 2) % 3];
    return n[i][k] * n[j][l] - n[i][l] * n[j][k];
  };
  const determinant = n[0][0] * cofactor(0, 0) + n[0][1] * cofactor(0, 1) + n[0][2] * cofactor(0, 2);
  return n.map((row, a) => row.map((_, b) => (s[a] * s[b] * cofactor(b, a)) / determinant));
}
