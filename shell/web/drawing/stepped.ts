/** The x that an arrow key leads to: one percent of the points to the side; Home and End are the ends. */
export function steppedX(
  xs: readonly (number | null | undefined)[],
  x: number | undefined,
  key: string,
): number | undefined {
  const known = xs.filter((value): value is number => typeof value === 'number');
  if (known.length === 0) return undefined;
  if (key === 'Home') return known[0];
  if (key === 'End') return known.at(-1);
  const sign = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
  if (sign === 0) return undefined;
  const at = x === undefined ? -1 : known.findIndex((value) => value >= x);
  const stride = Math.max(1, Math.round(known.length / 100));
  const next = Math.max(at, 0) + sign * stride;
  return known[Math.min(known.length - 1, Math.max(0, next))];
}
