import { fourierPlan, fourierTransformInto, inverseFourierTransformInto, powerOfTwoAtLeast } from './fft.ts';

export interface CrossCorrelationInput {
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** Lags −maxLag … +maxLag are computed [samples]. */
  readonly maxLag: number;
  /** Lags whose overlap is shorter are NaN [samples]; default: half of the shorter signal, at least 3. */
  readonly minOverlap?: number;
}

/** Both arrays have 2·maxLag + 1 entries; entry k belongs to lag k − maxLag. */
export interface CrossCorrelation {
  readonly correlation: Float64Array;
  readonly overlap: Int32Array;
}

/**
 * Normalised cross-correlation of two signals of the same rate [1], −1 … 1, for every lag.
 *
 *     r(k) = Σ (a[i] − ā)(b[i+k] − b̄) / √(Σ (a[i] − ā)² · Σ (b[i+k] − b̄)²)
 *
 * Sums and means run over the overlap at that lag, so a short overlap is not drawn to zero. A positive lag says that what
 * `first` shows at sample i is seen in `second` k samples later. NaN where the overlap is too short or one side is constant.
 *
 * @valid   no missing samples: a NaN or an infinity throws; resample or cut the signals first. Products by Fourier transform, O(n·log n)
 * @source  Pearson correlation on the overlap; Lewis, "Fast normalized cross-correlation" (1995), running sums
 */
export function crossCorrelation(input: CrossCorrelationInput): CrossCorrelation {
  const { maxLag } = input;
  if (!Number.isInteger(maxLag) || maxLag < 0) throw new RangeError(`invalid largest lag: ${maxLag}`);
  const a = centred(input.first);
  const b = centred(input.second);
  const minOverlap = Math.max(3, input.minOverlap ?? Math.floor(Math.min(a.length, b.length) / 2));
  const products = laggedProducts(a, b, maxLag);
  const sumsA = runningSums(a);
  const sumsB = runningSums(b);
  const correlation = new Float64Array(2 * maxLag + 1).fill(Number.NaN);
  const overlap = new Int32Array(2 * maxLag + 1);
  for (let k = -maxLag; k <= maxLag; k++) {
    const from = Math.max(0, -k);
    const to = Math.min(a.length, b.length - k);
    const n = Math.max(0, to - from);
    overlap[k + maxLag] = n;
    if (n < minOverlap) continue;
    const sa = sumsA.plain[to] - sumsA.plain[from];
    const sb = sumsB.plain[to + k] - sumsB.plain[from + k];
    const squareA = sumsA.squares[to] - sumsA.squares[from];
    const squareB = sumsB.squares[to + k] - sumsB.squares[from + k];
    const spreadA = squareA - (sa * sa) / n;
    const spreadB = squareB - (sb * sb) / n;
    // below this the spread is rounding noise of the running sums
    if (spreadA <= 1e-12 * sumsA.total || spreadB <= 1e-12 * sumsB.total) continue;
    const r = (products[k + maxLag] - (sa * sb) / n) / Math.sqrt(spreadA * spreadB);
    correlation[k + maxLag] = Math.max(-1, Math.min(1, r));
  }
  return { correlation, overlap };
}

function centred(samples: Float64Array): Float64Array {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) {
    if (!Number.isFinite(samples[i])) throw new RangeError(`missing or infinite sample at index ${i}`);
    sum += samples[i];
  }
  const mean = sum / samples.length;
  return samples.map((value) => value - mean);
}

/** Σ a[i]·b[i+k] for k = −L … L. */
function laggedProducts(a: Float64Array, b: Float64Array, maxLag: number): Float64Array {
  const size = powerOfTwoAtLeast(a.length + b.length);
  const plan = fourierPlan(size);
  const [fa, fb] = [a, b].map((signal) => {
    const re = new Float64Array(size);
    re.set(signal);
    const data = { re, im: new Float64Array(size) };
    fourierTransformInto(data, plan);
    return data;
  });
  for (let i = 0; i < size; i++) {
    const re = fa.re[i] * fb.re[i] + fa.im[i] * fb.im[i];
    fa.im[i] = fa.re[i] * fb.im[i] - fa.im[i] * fb.re[i];
    fa.re[i] = re;
  }
  inverseFourierTransformInto(fa, plan);
  const products = new Float64Array(2 * maxLag + 1);
  for (let k = -maxLag; k <= maxLag; k++) {
    if (k > -a.length && k < b.length) products[k + maxLag] = fa.re[(k + size) % size];
  }
  return products;
}

function runningSums(samples: Float64Array): {
  readonly plain: Float64Array;
  readonly squares: Float64Array;
  readonly total: number;
} {
  const plain = new Float64Array(samples.length + 1);
  const squares = new Float64Array(samples.length + 1);
  for (let i = 0; i < samples.length; i++) {
    plain[i + 1] = plain[i] + samples[i];
    squares[i + 1] = squares[i] + samples[i] * samples[i];
  }
  return { plain, squares, total: squares[samples.length] };
}
