/** Places of the numbers along an axis, and how many decimals tell them apart. */
interface AxisSteps {
  readonly places: readonly number[];
  readonly decimals: number;
}

/** One number alone gives no scale. @source our default */
const LEAST = 2;
const SHARES = [5, 2, 1];

/**
 * Multiples of a step from low to high. step: what fits the room; a smaller one of 1, 2 or 5 times a power of ten is taken where fewer than two
 * numbers would stand.
 */
export function axisSteps(low: number, high: number, step: number): AxisSteps {
  if (!(high > low) || !Number.isFinite(high - low)) return { places: [], decimals: 0 };
  const asked = step > 0 && Number.isFinite(step) ? step : high - low;
  for (const size of [asked, ...smaller(asked)]) {
    const places = multiples(low, high, size);
    if (places.length >= LEAST) return { places, decimals: decimalsOf(size) };
  }
  return { places: [low, high], decimals: decimalsOf(high - low) };
}

/** Steps below a step, falling. */
function smaller(than: number): readonly number[] {
  const power = Math.floor(Math.log10(than));
  return [0, -1, -2]
    .flatMap((down) => SHARES.map((share) => scaled(share, power + down)))
    .filter((size) => size < than * (1 - 1e-9));
}

/** share·10^power without the noise of a binary fraction. */
function scaled(share: number, power: number): number {
  return Number(`${share}e${power}`);
}

function multiples(low: number, high: number, size: number): readonly number[] {
  const slack = 1e-9;
  const [first, last] = [Math.ceil(low / size - slack), Math.floor(high / size + slack)];
  const decimals = decimalsOf(size);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, at) =>
    Number(((first + at) * size).toFixed(decimals)),
  );
}

/** Decimals of a step: 0.25 has two, 500 none. */
function decimalsOf(size: number): number {
  for (let decimals = 0; decimals < 12; decimals += 1)
    if (Math.abs(size - Number(size.toFixed(decimals))) < 1e-6 * size) return decimals;
  return 12;
}
