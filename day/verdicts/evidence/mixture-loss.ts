/** Mixture of best power, how much of it is lost per square of the distance from there, and how lean that holds [1]. @source 2 % more from 0.80 to 0.86 on petrol: common practice, no source */
const BEST = 0.87;
const OFF_BEST = 4.2;
const LEANEST = 1.05;

/** Share of power that a lambda takes, either way, beside another [1]; infinite where it is too lean to say. */
export function mixtureLoss({ here, there }: { readonly here: number; readonly there: number }): number {
  if (here > LEANEST) return Number.POSITIVE_INFINITY;
  return Math.abs(OFF_BEST * ((here - BEST) ** 2 - (there - BEST) ** 2));
}
