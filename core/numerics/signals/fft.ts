/** Real and imaginary parts, equally long. */
export interface ComplexArrays {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Everything about a transform that depends on its size only; make once, use often. */
export interface FourierPlan {
  readonly size: number;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly reversed: Uint32Array;
}

/**
 * Twiddle factors and bit reversal for transforms of `size` points.
 *
 * @param size power of two, ≥ 1; anything else throws
 * @source  Cooley & Tukey, Math. Comp. 19 (1965) 297; radix 2, decimation in time
 */
export function fourierPlan(size: number): FourierPlan {
  if (!(size >= 1) || (size & (size - 1)) !== 0) throw new RangeError(`transform size is no power of two: ${size}`);
  const half = size >> 1;
  const cos = new Float64Array(half);
  const sin = new Float64Array(half);
  for (let k = 0; k < half; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / size);
    sin[k] = Math.sin((2 * Math.PI * k) / size);
  }
  const reversed = new Uint32Array(size);
  for (let i = 1; i < size; i++) reversed[i] = (reversed[i >> 1] >> 1) | (i & 1 ? half : 0);
  return { size, cos, sin, reversed };
}

/**
 * Discrete Fourier transform, in place: X[k] = Σ x[n]·exp(−2πi·k·n/N), no factor in front.
 *
 * @param data both parts as long as `plan.size`; overwritten
 */
export function fourierTransformInto(data: ComplexArrays, plan: FourierPlan): void {
  butterfliesInto(data, plan, 1);
}

/** Inverse of {@link fourierTransformInto}, in place, with the factor 1/N. */
export function inverseFourierTransformInto(data: ComplexArrays, plan: FourierPlan): void {
  butterfliesInto(data, plan, -1);
  for (let i = 0; i < plan.size; i++) {
    data.re[i] /= plan.size;
    data.im[i] /= plan.size;
  }
}

/**
 * Transform of a real signal, zero-padded to `size`: bins 0 … size/2, arrays of size/2 + 1. NaN throws.
 *
 * @param samples at most `size` long
 * @param size    power of two; default: the next one at or above the length
 */
export function realFourierTransform(
  samples: ArrayLike<number>,
  size: number = powerOfTwoAtLeast(samples.length),
): ComplexArrays {
  if (samples.length > size) throw new RangeError(`${samples.length} samples do not fit a transform of ${size}`);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let i = 0; i < samples.length; i++) {
    if (Number.isNaN(samples[i])) throw new RangeError(`missing sample at index ${i}`);
    re[i] = samples[i];
  }
  fourierTransformInto({ re, im }, fourierPlan(size));
  const bins = (size >> 1) + 1;
  return { re: re.slice(0, bins), im: im.slice(0, bins) };
}

/** Smallest power of two that is not below n, at least 1. */
export function powerOfTwoAtLeast(n: number): number {
  let size = 1;
  while (size < n) size *= 2;
  return size;
}

/** direction 1 forward, −1 backward without the factor. */
function butterfliesInto({ re, im }: ComplexArrays, plan: FourierPlan, direction: 1 | -1): void {
  const { size, cos, sin, reversed } = plan;
  if (re.length !== size || im.length !== size) throw new RangeError(`arrays are not ${size} long`);
  for (let i = 0; i < size; i++) {
    const j = reversed[i];
    if (j <= i) continue;
    const heldRe = re[i];
    const heldIm = im[i];
    re[i] = re[j];
    im[i] = im[j];
    re[j] = heldRe;
    im[j] = heldIm;
  }
  for (let span = 1; span < size; span *= 2) {
    const stride = size / (2 * span);
    for (let start = 0; start < size; start += 2 * span) {
      for (let k = 0, twiddle = 0; k < span; k++, twiddle += stride) {
        const c = cos[twiddle];
        const s = -direction * sin[twiddle];
        const a = start + k;
        const b = a + span;
        const x = re[b] * c - im[b] * s;
        const y = re[b] * s + im[b] * c;
        re[b] = re[a] - x;
        im[b] = im[a] - y;
        re[a] += x;
        im[a] += y;
      }
    }
  }
}
