export interface RootRange {
  readonly lower: number;
  readonly upper: number;
  /** Largest width of the last bracket, in x; default 1e-12 times the larger end. */
  readonly tolerance?: number;
}

/**
 * x between the ends with f(x) = 0, or NaN when f has the same sign at both ends.
 *
 * @param f continuous on the range
 * @source  Ridders, IEEE Trans. Circuits Syst. 26 (1979) 979; always inside the bracket
 */
export function bracketedRoot(f: (x: number) => number, range: RootRange): number {
  let { lower, upper } = range;
  let low = f(lower);
  let high = f(upper);
  if (low === 0) return lower;
  if (high === 0) return upper;
  if (!(low * high < 0)) return Number.NaN;
  const tolerance = range.tolerance ?? 1e-12 * Math.max(Math.abs(lower), Math.abs(upper));
  for (let step = 0; step < 200 && Math.abs(upper - lower) > tolerance; step++) {
    const middle = (lower + upper) / 2;
    const centre = f(middle);
    if (centre === 0) return middle;
    const reach = Math.sqrt(centre * centre - low * high);
    const wanted = middle + ((middle - lower) * Math.sign(low - high) * centre) / reach;
    // infinite values, such as the logarithm of a vanished tail, leave plain halving
    const x = Number.isFinite(wanted) ? wanted : middle;
    const y = f(x);
    if (y === 0 || x === lower || x === upper) return x;
    if (centre * y < 0) [lower, upper, low, high] = x < middle ? [x, middle, y, centre] : [middle, x, centre, y];
    else if (low * y < 0) [upper, high] = [x, y];
    else [lower, low] = [x, y];
  }
  return (lower + upper) / 2;
}
