import { LINES } from './line-kinds.ts';
import { cornersOf, type Place, type Sensitivities, slopesAtInto } from './sensitivities.ts';

/** Covariance of the first numbers of the sensitivities, row by row, and standard uncertainties of those that follow; entries of a step come after. */
export interface KnownSpreads {
  readonly covariance: Float64Array;
  readonly parameters: number;
  readonly fixed: readonly number[];
}

/** Variance that a line has at a place from numbers that no step changes; NaN where its slopes are not known. */
export type Variance = (place: Place) => number;

/**
 * Variance of a line from parameters and fixed numbers, their slopes bilinear between four nodes.
 *
 *     g = Σ w_a·g_a   ⇒   gᵀ·C·g = Σ w_a·w_b·(g_aᵀ·C·g_b)
 *
 * The products in brackets are worked out once for each cell and line; a place then costs ten of them instead of a thousand products. Where a
 * node knows only some slopes of a line, weights differ from number to number, and {@link plainVariance} is asked.
 *
 * @source  JCGM 100:2008, equation 13
 */
export function keptVariance(sensitivities: Sensitivities, known: KnownSpreads): Variance {
  const plain = plainVariance(sensitivities, known);
  const kept = new Map<number, Float64Array | undefined>();
  return (place) => {
    const { nodes, weights } = cornersOf(sensitivities, place);
    const key = nodes[0] * LINES.length + place.line;
    if (!kept.has(key)) kept.set(key, productsOf(sensitivities, known, { nodes, line: place.line }));
    const products = kept.get(key);
    if (!products) return plain(place);
    let [whole, square] = [0, 0];
    for (let a = 0; a < 4; a++) {
      // a node without slopes counts for nothing
      if (Number.isNaN(products[5 * a])) continue;
      whole += weights[a];
      for (let b = 0; b < 4; b++) {
        if (!Number.isNaN(products[5 * b])) square += weights[a] * weights[b] * products[4 * a + b];
      }
    }
    return whole > 0 ? square / (whole * whole) : Number.NaN;
  };
}

/** As {@link keptVariance}, slope by slope. */
export function plainVariance(
  sensitivities: Sensitivities,
  { covariance, parameters: n, fixed }: KnownSpreads,
): Variance {
  const slopes = new Float64Array(sensitivities.names.length);
  return (place) => {
    slopesAtInto(slopes, sensitivities, place);
    return product(slopes, slopes, { covariance, parameters: n, fixed });
  };
}

/** g_aᵀ·C·g_b of the four nodes of a cell, NaN in the rows of nodes without slopes; undefined when a node has only some. */
function productsOf(
  { names, slopes }: Sensitivities,
  known: KnownSpreads,
  { nodes, line }: { readonly nodes: readonly number[]; readonly line: number },
): Float64Array | undefined {
  const asked = known.parameters + known.fixed.length;
  const at = nodes.map((node) => {
    const from = (node * LINES.length + line) * names.length;
    return slopes.subarray(from, from + asked);
  });
  for (const one of at) if (one.some(Number.isFinite) && !one.every(Number.isFinite)) return undefined;
  return Float64Array.from({ length: 16 }, (_, i) => product(at[i >> 2], at[i & 3], known));
}

function product(one: Float64Array, other: Float64Array, { covariance, parameters: n, fixed }: KnownSpreads): number {
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (one[i] === 0) continue;
    for (let j = 0; j < n; j++) sum += one[i] * other[j] * covariance[i * n + j];
  }
  for (let k = 0; k < fixed.length; k++) sum += one[n + k] * other[n + k] * fixed[k] * fixed[k];
  return sum;
}
