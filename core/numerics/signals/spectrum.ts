import { fourierPlan, fourierTransformInto } from './fft.ts';

export interface SpectrumInput {
  readonly samples: Float64Array;
  /** Sample rate [Hz], equally spaced. */
  readonly rate: number;
  /** Samples per segment, power of two ≥ 8; default 256. Resolution is rate/segment. */
  readonly segment?: number;
  /** Shared part of neighbouring segments, 0 … 0.9; default 0.5. */
  readonly overlap?: number;
}

/** frequency and density have segment/2 + 1 entries; segments says how many were averaged (0: density is NaN). */
export interface PowerSpectrum {
  readonly frequency: Float64Array;
  readonly density: Float64Array;
  readonly segments: number;
}

/**
 * Power spectral density by Welch's method [unit²/Hz].
 *
 *     S(f) = 2·|X(f)|² / (rate · Σ w²)     averaged over segments; no factor 2 at 0 and at rate/2
 *
 * One-sided: the sum of S·Δf is the variance. Periodic Hann window, each segment freed of its own mean. A segment with a
 * missing sample is left out whole (policy `skip`).
 *
 * @source  Welch, IEEE Trans. Audio Electroacoust. 15 (1967) 70
 */
export function powerSpectrum(input: SpectrumInput): PowerSpectrum {
  const { samples, rate, segment = 256, overlap = 0.5 } = input;
  if (segment < 8 || !(rate > 0)) throw new RangeError(`invalid segment or rate: ${segment}, ${rate}`);
  if (!(overlap >= 0 && overlap <= 0.9)) throw new RangeError(`invalid overlap: ${overlap}, expected 0–0.9`);
  const plan = fourierPlan(segment);
  const window = hann(segment);
  const bins = segment / 2 + 1;
  const density = new Float64Array(bins);
  const data = { re: new Float64Array(segment), im: new Float64Array(segment) };
  const step = Math.max(1, Math.round(segment * (1 - overlap)));
  let segments = 0;
  for (let start = 0; start + segment <= samples.length; start += step) {
    if (!windowedInto(data.re, samples.subarray(start, start + segment), window)) continue;
    data.im.fill(0);
    fourierTransformInto(data, plan);
    for (let k = 0; k < bins; k++) density[k] += data.re[k] ** 2 + data.im[k] ** 2;
    segments++;
  }
  const energy = window.reduce((sum, w) => sum + w * w, 0);
  for (let k = 0; k < bins; k++) {
    const sides = k === 0 || k === bins - 1 ? 1 : 2;
    density[k] = segments === 0 ? Number.NaN : (sides * density[k]) / (rate * energy * segments);
  }
  return { frequency: Float64Array.from({ length: bins }, (_, k) => (k * rate) / segment), density, segments };
}

function hann(size: number): Float64Array {
  return Float64Array.from({ length: size }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size));
}

/** False when a sample is missing. */
function windowedInto(out: Float64Array, part: Float64Array, window: Float64Array): boolean {
  let sum = 0;
  for (let i = 0; i < part.length; i++) sum += part[i];
  const mean = sum / part.length;
  for (let i = 0; i < part.length; i++) out[i] = (part[i] - mean) * window[i];
  return !Number.isNaN(sum);
}
