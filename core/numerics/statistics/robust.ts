import { type MissingPolicy, usableSamples } from './missing.ts';
import { median } from './quantile.ts';

/** Makes the median absolute deviation of normal samples equal their standard deviation: 1/Φ⁻¹(3/4). @source definition */
export const NORMAL_MAD_FACTOR = 1.482602218505602;

/** Tuning of Huber's estimate: 95 % efficiency for normal samples. @source Huber & Ronchetti, Robust Statistics, 2nd ed. */
export const HUBER_TUNING = 1.345;

/**
 * Scaled median absolute deviation: 1.4826·median|x − median(x)| [unit of samples]. Estimates the standard deviation of
 * normal samples; zero when more than half are equal; NaN when nothing is usable.
 *
 * @source  Hampel, J. Am. Stat. Assoc. 69 (1974) 383
 */
export function medianAbsoluteDeviation(samples: ArrayLike<number>, missing: MissingPolicy): number {
  const kept = usableSamples(samples, missing);
  if (!kept) return Number.NaN;
  const middle = median(kept, 'refuse');
  return (
    NORMAL_MAD_FACTOR *
    median(
      kept.map((x) => Math.abs(x - middle)),
      'refuse',
    )
  );
}

export interface HuberInput {
  readonly samples: ArrayLike<number>;
  readonly missing: MissingPolicy;
  /** In units of the scale; default 1.345. */
  readonly tuning?: number;
}

/** location and scale [unit of samples]; standardUncertainty of the location, asymptotic. */
export interface HuberLocation {
  readonly location: number;
  readonly scale: number;
  readonly standardUncertainty: number;
  readonly converged: boolean;
}

/**
 * Huber's M-estimate of location: Σ ψ((x − µ)/s) = 0 with ψ cut at ±tuning, s the scaled MAD of the samples.
 *
 * Scale zero (more than half equal): the median with uncertainty zero. Nothing usable: NaN, not converged.
 *
 * @source  Huber, Ann. Math. Stat. 35 (1964) 73; variance of the estimate: Huber & Ronchetti, ch. 3
 */
export function huberLocation({ samples, missing, tuning = HUBER_TUNING }: HuberInput): HuberLocation {
  const kept = usableSamples(samples, missing);
  const scale = kept ? medianAbsoluteDeviation(kept, 'refuse') : Number.NaN;
  let location = kept ? median(kept, 'refuse') : Number.NaN;
  if (!kept || kept.length === 0) return { location, scale, standardUncertainty: Number.NaN, converged: false };
  if (scale === 0) return { location, scale, standardUncertainty: 0, converged: true };
  let converged = false;
  for (let step = 0; step < 100 && !converged; step++) {
    let weights = 0;
    let sum = 0;
    for (const x of kept) {
      const w = Math.min(1, (tuning * scale) / Math.abs(x - location));
      weights += w;
      sum += w * x;
    }
    converged = Math.abs(sum / weights - location) <= 1e-12 * scale;
    location = sum / weights;
  }
  return { location, scale, standardUncertainty: uncertainty(kept, { location, scale, tuning }), converged };
}

/**
 * Hodges–Lehmann estimate of location: median of all pairwise means, each sample with itself included [unit of samples]. O(n²).
 *
 * @source  Hodges & Lehmann, Ann. Math. Stat. 34 (1963) 598
 */
export function hodgesLehmann(samples: ArrayLike<number>, missing: MissingPolicy): number {
  const kept = usableSamples(samples, missing);
  if (!kept) return Number.NaN;
  const means = new Float64Array((kept.length * (kept.length + 1)) / 2);
  let next = 0;
  for (let i = 0; i < kept.length; i++) for (let j = i; j < kept.length; j++) means[next++] = (kept[i] + kept[j]) / 2;
  return median(means, 'refuse');
}

function uncertainty(
  kept: Float64Array,
  { location, scale, tuning }: { location: number; scale: number; tuning: number },
): number {
  const n = kept.length;
  if (n < 2) return Number.NaN;
  let squares = 0;
  let inside = 0;
  for (const x of kept) {
    const r = (x - location) / scale;
    squares += Math.min(tuning, Math.abs(r)) ** 2;
    if (Math.abs(r) <= tuning) inside++;
  }
  return (scale * Math.sqrt(squares / (n - 1) / n)) / (inside / n);
}
