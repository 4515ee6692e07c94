import { cholesky, forwardSolution } from '../../../core/numerics/index.ts';

/** Where a residual stands: which pull, engine speed as a share of the redline [1], manifold pressure [Pa], standard uncertainty of the point alone. */
export interface Place {
  readonly pull: number;
  readonly share: number;
  readonly pressure: number;
  readonly noise: number;
}

/** What residuals of one quantity have in common: within a pull, and between all pulls because the model has it wrong there. Standard deviations in the unit of the residual. */
export interface Shared {
  readonly pull: number;
  readonly model: number;
}

/** Distance over which what the model has wrong stays the same: share of the redline [1] and logarithm of manifold pressure [1]. @source our default */
const REACH = { share: 0.15, pressure: 0.2 } as const;

/**
 * Turns residuals that depend on one another into independent ones of unit variance.
 *
 *     C = noise² + pull² within a pull + model²·exp(−½·d²),   r' = L⁻¹·r,   L·Lᵀ = C
 *
 * d: distance in speed and pressure over {@link REACH}. Without the last term every pull of a day would count as one more witness for
 * what the model has wrong, and parameters nobody asked about would pay for it.
 *
 * @param order indices of the places; a residual is told from those before it, so what is doubtful belongs last
 * @source  generalised least squares; discrepancy of a model as a Gaussian process: Kennedy and O'Hagan, J. R. Stat. Soc. B 63 (2001) 425 (from memory)
 */
export function whitening(
  places: readonly Place[],
  shared: Shared,
  order: readonly number[],
): (raw: ArrayLike<number>) => Float64Array {
  const n = places.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) matrix[i * n + j] = covariance(places[order[i]], places[order[j]], shared);
    matrix[i * n + i] += places[order[i]].noise ** 2;
  }
  const lower = cholesky(matrix, n);
  if (!lower) throw new RangeError('whitening needs noise above zero at every place');
  return (raw) =>
    forwardSolution(
      lower,
      order.map((i) => raw[i]),
    );
}

function covariance(a: Place, b: Place, { pull, model }: Shared): number {
  return discrepancy(a, b, model) + (a.pull === b.pull ? pull * pull : 0);
}

/** Covariance of what the model has wrong at two places. */
export function discrepancy(
  a: Pick<Place, 'share' | 'pressure'>,
  b: Pick<Place, 'share' | 'pressure'>,
  model: number,
): number {
  const far = ((a.share - b.share) / REACH.share) ** 2 + (Math.log(a.pressure / b.pressure) / REACH.pressure) ** 2;
  return model * model * Math.exp(-far / 2);
}
