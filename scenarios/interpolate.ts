/** Value of a table at x: straight lines between the points, flat beyond the ends. xs increasing, as long as ys, at least one point. */
export function lineAt(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
  const last = xs.length - 1;
  if (!(x > at(xs, 0))) return at(ys, 0);
  if (x >= at(xs, last)) return at(ys, last);
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (at(xs, middle) <= x) low = middle;
    else high = middle;
  }
  const span = at(xs, high) - at(xs, low);
  const share = span > 0 ? (x - at(xs, low)) / span : 0;
  return at(ys, low) + share * (at(ys, high) - at(ys, low));
}

/**
 * Value of a table at x: a smooth curve through the points without overshoot, straight on beyond the ends.
 *
 * @source Fritsch and Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17 (1980)
 */
export function curveAt(xs: readonly number[], ys: readonly number[], x: number): number {
  const last = xs.length - 1;
  if (last < 2) return lineAt(xs, ys, x);
  let i = 0;
  while (i < last - 1 && x > at(xs, i + 1)) i += 1;
  const step = at(xs, i + 1) - at(xs, i);
  const left = slopeAt(xs, ys, i);
  const right = slopeAt(xs, ys, i + 1);
  const t = (x - at(xs, i)) / step;
  if (t < 0) return at(ys, 0) + left * (x - at(xs, 0));
  if (t > 1) return at(ys, last) + right * (x - at(xs, last));
  const t2 = t * t;
  const t3 = t2 * t;
  return (
    (2 * t3 - 3 * t2 + 1) * at(ys, i) +
    (t3 - 2 * t2 + t) * step * left +
    (-2 * t3 + 3 * t2) * at(ys, i + 1) +
    (t3 - t2) * step * right
  );
}

/** Share of the way from low to high, smooth at both ends, 0 before and 1 after. */
export function easeBetween(low: number, high: number, x: number): number {
  const share = Math.min(1, Math.max(0, (x - low) / (high - low)));
  return share * share * (3 - 2 * share);
}

/** Limits x to [low, high]. */
export function clamp(x: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, x));
}

/** Item of a list that must be there. */
export function at<T>(items: ArrayLike<T>, index: number): T {
  const item = items[index];
  if (item === undefined) throw new Error(`no item ${index} of ${items.length}`);
  return item;
}

function slopeAt(xs: readonly number[], ys: readonly number[], i: number): number {
  const last = xs.length - 1;
  const secant = (k: number): number => (at(ys, k + 1) - at(ys, k)) / (at(xs, k + 1) - at(xs, k));
  if (i === 0) return secant(0);
  if (i === last) return secant(last - 1);
  const before = secant(i - 1);
  const after = secant(i);
  if (before * after <= 0) return 0;
  return (2 * before * after) / (before + after);
}
