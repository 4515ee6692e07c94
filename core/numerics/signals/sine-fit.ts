import { backwardSolution, cholesky, forwardSolution } from '../fits/cholesky.ts';

/** values: equally spaced, NaN where there is none; from, to: the stretch [index, to is beyond it]. perStep: angle of the sine per sample [rad]. */
export interface SineInput {
  readonly values: Float64Array;
  readonly from: number;
  readonly to: number;
  readonly perStep: number;
  /** Fewest values that must be there. */
  readonly fewest: number;
  /** Values this many root mean squares off the first fit are left out of the second. */
  readonly astray: number;
}

/**
 * A sine about a parabola over one stretch. amplitude, deviation (of that amplitude): unit of the values; sinePower: mean square of the sine over what was used;
 * spread: deviation of what is left over; halves: how much of the sine each half holds, over what it does as a whole [1].
 */
export interface SineFit {
  readonly amplitude: number;
  readonly deviation: number;
  readonly sinePower: number;
  readonly spread: number;
  readonly halves: readonly [number, number];
}

const COLUMNS = 5;

/**
 * Least squares of a sine of known frequency and a parabola, twice: the second time without what lay astray. Normal equations: with two cycles and more the
 * columns are far from parallel. Undefined with too few values or a stretch that holds no cycle.
 *
 * @source IEEE Std 1057, three-parameter sine fit, with a parabola in place of the constant; deviation of an amplitude √(2/n) of what is left over
 */
export function sineFit(input: SineInput): SineFit | undefined {
  const { from, to, perStep } = input;
  const size = to - from;
  const middle = (size - 1) / 2;
  const [cosine, sine] = [new Float64Array(size), new Float64Array(size)];
  const [turnCos, turnSin] = [Math.cos(perStep), Math.sin(perStep)];
  let [c, s] = [Math.cos(-perStep * middle), Math.sin(-perStep * middle)];
  for (let k = 0; k < size; k++) {
    cosine[k] = c;
    sine[k] = s;
    [c, s] = [c * turnCos - s * turnSin, s * turnCos + c * turnSin];
  }
  const shape: Shape = { ...input, size, middle, cosine, sine };
  const first = solved(shape, undefined, Number.POSITIVE_INFINITY);
  if (!first) return undefined;
  const farthest = input.astray * spreadOf(shape, first);
  const second = solved(shape, first, farthest) ?? first;
  return described(shape, { fit: second, first, farthest });
}

interface Shape extends SineInput {
  readonly size: number;
  readonly middle: number;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
}

/** Normal equations over the values that lie no farther from a former fit; undefined with too few of them. */
function solved(shape: Shape, former: Float64Array | undefined, farthest: number): Float64Array | undefined {
  const { values, from, size, middle, cosine, sine, fewest } = shape;
  const matrix = new Float64Array(COLUMNS * COLUMNS);
  const right = new Float64Array(COLUMNS);
  const row = new Float64Array(COLUMNS);
  let count = 0;
  for (let k = 0; k < size; k++) {
    const value = values[from + k];
    if (!Number.isFinite(value) || (former && Math.abs(leftOver(shape, former, k)) > farthest)) continue;
    const place = (k - middle) / middle;
    row[0] = cosine[k];
    row[1] = sine[k];
    row[2] = 1;
    row[3] = place;
    row[4] = place * place;
    for (let i = 0; i < COLUMNS; i++) {
      right[i] += row[i] * value;
      for (let j = 0; j <= i; j++) matrix[i * COLUMNS + j] += row[i] * row[j];
    }
    count += 1;
  }
  if (count < fewest) return undefined;
  const lower = cholesky(matrix, COLUMNS);
  return lower && backwardSolution(lower, forwardSolution(lower, right));
}

function leftOver({ values, from, middle, cosine, sine }: Shape, x: Float64Array, k: number): number {
  const place = (k - middle) / middle;
  return values[from + k] - (x[0] * cosine[k] + x[1] * sine[k] + x[2] + x[3] * place + x[4] * place * place);
}

function spreadOf(shape: Shape, x: Float64Array): number {
  let [squares, count] = [0, 0];
  for (let k = 0; k < shape.size; k++) {
    const left = leftOver(shape, x, k);
    if (!Number.isFinite(left)) continue;
    squares += left * left;
    count += 1;
  }
  return Math.sqrt(squares / Math.max(1, count));
}

interface Twice {
  readonly fit: Float64Array;
  readonly first: Float64Array;
  readonly farthest: number;
}

function described(shape: Shape, { fit, first, farthest }: Twice): SineFit {
  const { size, middle, cosine, sine } = shape;
  let [squares, power, count] = [0, 0, 0];
  const [along, square] = [
    [0, 0],
    [0, 0],
  ];
  for (let k = 0; k < size; k++) {
    const far = leftOver(shape, first, k);
    if (!(Math.abs(far) <= farthest)) continue;
    const left = leftOver(shape, fit, k);
    const wave = fit[0] * cosine[k] + fit[1] * sine[k];
    const half = k < middle ? 0 : 1;
    squares += left * left;
    power += wave * wave;
    along[half] += (wave + left) * wave;
    square[half] += wave * wave;
    count += 1;
  }
  const spread = Math.sqrt(squares / Math.max(1, count - COLUMNS));
  const held = (half: 0 | 1): number => (square[half] > 0 ? along[half] / square[half] : 0);
  return {
    amplitude: Math.hypot(fit[0], fit[1]),
    deviation: spread * Math.sqrt(2 / count),
    sinePower: power / count,
    spread,
    halves: [held(0), held(1)],
  };
}
