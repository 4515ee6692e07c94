import type { BudgetView } from '../../contract/index.ts';

/** Budget lines with their largest known effect [W], largest first. Lines without any known effect come last. */
export function sortedBudget(
  budget: readonly BudgetView[],
): readonly { readonly line: BudgetView; readonly size: number }[] {
  return budget
    .map((line) => ({
      line,
      size: Math.max(...[line.engine, line.tyre, line.roll].map((watts) => Math.abs(watts ?? 0))),
    }))
    .sort((one, other) => other.size - one.size);
}
