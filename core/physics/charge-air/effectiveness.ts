import { bracketedRoot, incompleteGamma } from '../../numerics/index.ts';
import { type Ratio, ratio } from '../../quantities/index.ts';

/** How the two streams pass each other. `cross-flow`: both unmixed. */
export type FlowArrangement = 'counter-flow' | 'parallel-flow' | 'cross-flow';

export interface TransferUnits {
  readonly arrangement: FlowArrangement;
  /** UA/Cmin [1], ≥ 0. */
  readonly units: number;
  /** Smaller over larger capacity flow Cmin/Cmax [1], 0 … 1. */
  readonly capacityRatio: Ratio;
}

/**
 * Heat moved over the most that could be moved [1].
 *
 *     counter    (1 − e^(−N(1−C)))/(1 − C·e^(−N(1−C))),  N/(1 + N) at C = 1
 *     parallel   (1 − e^(−N(1+C)))/(1 + C)
 *     cross      1/(C·N)·Σ P(n+1, N)·P(n+1, C·N),  n = 0, 1, …   (P: regularised lower incomplete gamma)
 *
 * @valid   constant properties, no heat to the outside; NaN for a capacity ratio outside 0 … 1 or negative units
 * @source  Incropera, Fundamentals of Heat and Mass Transfer, table 11.3 (from memory); cross-flow: series of Mason (1955)
 */
export function effectiveness({ arrangement, units: N, capacityRatio: C }: TransferUnits): Ratio {
  if (!(N >= 0 && C >= 0 && C <= 1)) return ratio(Number.NaN);
  if (N === 0) return ratio(0);
  if (C === 0) return ratio(-Math.expm1(-N));
  switch (arrangement) {
    case 'counter-flow': {
      if (C > 1 - 1e-9) return ratio(N / (1 + N));
      const rest = Math.exp(-N * (1 - C));
      return ratio((1 - rest) / (1 - C * rest));
    }
    case 'parallel-flow':
      return ratio(-Math.expm1(-N * (1 + C)) / (1 + C));
    case 'cross-flow':
      return ratio(crossFlowSum(N, C) / (C * N));
    default:
      return unknownArrangement(arrangement);
  }
}

/**
 * Transfer units that give an effectiveness [1]; inverse of {@link effectiveness}. NaN when no number of units reaches it.
 */
export function transferUnits(
  arrangement: FlowArrangement,
  { effectiveness: wanted, capacityRatio }: { readonly effectiveness: Ratio; readonly capacityRatio: Ratio },
): number {
  const difference = (units: number): number => effectiveness({ arrangement, units, capacityRatio }) - wanted;
  return bracketedRoot(difference, { lower: 0, upper: 200 });
}

/**
 * Closed approximation for cross-flow with both streams unmixed [1]: 1 − exp(N^0.22/C·(exp(−C·N^0.78) − 1)).
 *
 * @valid   within 0.01 of the exact series; kept because published examples use it
 * @source  Nellis & Klein, Heat Transfer, table of effectiveness relations (seen in an equation-solver manual)
 */
export function approximateCrossFlow(units: number, capacityRatio: Ratio): Ratio {
  const C = capacityRatio;
  return ratio(1 - Math.exp((units ** 0.22 / C) * Math.expm1(-C * units ** 0.78)));
}

function crossFlowSum(N: number, C: number): number {
  let sum = 0;
  for (let n = 0; n < 2000; n++) {
    const term = incompleteGamma(n + 1, N).lower * incompleteGamma(n + 1, C * N).lower;
    sum += term;
    if (n > N && term < 1e-14 * sum) break;
  }
  return sum;
}

function unknownArrangement(arrangement: never): never {
  throw new Error(`unknown arrangement: ${arrangement}`);
}
