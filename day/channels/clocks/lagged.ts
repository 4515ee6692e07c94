import {
  fourierPlan,
  fourierTransformInto,
  inverseFourierTransformInto,
  powerOfTwoAtLeast,
} from '../../../core/numerics/index.ts';

/** A signal on an even grid: sample i stands at start + i·step. Missing samples are 0 with seen 0. */
export interface GridSignal {
  readonly start: number;
  readonly step: number;
  readonly samples: Float64Array;
  readonly seen: Float64Array;
}

/**
 * How alike two gridded signals are at every lag. Entry i belongs to lag first + i·step [s]: what `a` shows at t is seen in `b` at t + lag.
 * local: normalised over the common time only. scored: the shorter story must be told whole, so what lies outside counts against it.
 * coverage: share of the energy of one side that lies in the common time, the larger of both sides.
 */
export interface LagCurve {
  readonly first: number;
  readonly step: number;
  readonly local: Float64Array;
  readonly scored: Float64Array;
  readonly coverage: Float64Array;
}

/**
 * Normalised cross-correlation of two signals with holes, for all lags.
 *
 *     local  = Σab / √(Σa²·Σb²)                                     sums over the samples seen on both sides
 *     scored = Σab / min(√(A·Σb²), √(Σa²·B))                        A, B: whole energy of a side
 *
 * Means are not taken off: the signals are rates of change and have a meaningful zero.
 *
 * @source  masked correlation by transforms: Padfield, IEEE Trans. Image Process. 21 (2012) 2706
 */
export function lagCurve(a: GridSignal, b: GridSignal): LagCurve {
  const na = a.samples.length;
  const nb = b.samples.length;
  const plan = fourierPlan(powerOfTwoAtLeast(na + nb));
  const spectra = [a.samples, squares(a.samples), a.seen, b.samples, b.seen, squares(b.samples)].map((values) => {
    const data = { re: new Float64Array(plan.size), im: new Float64Array(plan.size) };
    data.re.set(values);
    fourierTransformInto(data, plan);
    return data;
  });
  const [ab, aa, bb] = [0, 1, 2].map((k) => {
    const x = spectra[k];
    const y = spectra[k + 3];
    for (let i = 0; i < plan.size; i++) {
      const re = x.re[i] * y.re[i] + x.im[i] * y.im[i];
      const im = x.re[i] * y.im[i] - x.im[i] * y.re[i];
      x.re[i] = re;
      x.im[i] = im;
    }
    inverseFourierTransformInto(x, plan);
    return x.re;
  });
  const wholeA = total(a.samples);
  const wholeB = total(b.samples);
  const count = na + nb - 1;
  const local = new Float64Array(count).fill(Number.NaN);
  const scored = new Float64Array(count).fill(Number.NaN);
  const coverage = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const k = i - (na - 1);
    const at = k < 0 ? k + plan.size : k;
    const energyA = Math.max(0, aa[at]);
    const energyB = Math.max(0, bb[at]);
    coverage[i] = Math.max(energyA / wholeA, energyB / wholeB);
    // below this the common time holds nothing but rounding
    if (!(energyA > 1e-3 * wholeA) || !(energyB > 1e-3 * wholeB)) continue;
    local[i] = ab[at] / Math.sqrt(energyA * energyB);
    scored[i] = ab[at] / Math.sqrt(Math.min(wholeA * energyB, energyA * wholeB));
  }
  return { first: b.start - a.start - (na - 1) * a.step, step: a.step, local, scored, coverage };
}

export interface LagPeaks {
  readonly lag: number;
  readonly correlation: number;
  /** Further tops close by that belong to the same hill [s]. */
  readonly sameHill: readonly number[];
  /** Best other hill; correlation over its own common time. */
  readonly second: { readonly lag: number; readonly correlation: number } | undefined;
  /** Width of the top: lags around the best that reach 97 % of it [s]. */
  readonly width: number;
}

/** Best and second-best hill of a lag curve; lags outside [from, to] do not count. Undefined when nothing overlaps. */
export function lagPeaks(
  curve: LagCurve,
  range?: { readonly from: number; readonly to: number },
): LagPeaks | undefined {
  const allowed = (i: number): boolean =>
    range === undefined || (curve.first + i * curve.step >= range.from && curve.first + i * curve.step <= range.to);
  let best = -1;
  for (let i = 0; i < curve.scored.length; i++) {
    if (allowed(i) && (best < 0 ? curve.scored[i] > 0 : curve.scored[i] > curve.scored[best])) best = i;
  }
  if (best < 0) return undefined;
  const hill = around(curve.scored, best, HILL * curve.scored[best]);
  const top = around(curve.scored, best, NEARLY * curve.scored[best]);
  const sameHill: number[] = [];
  let second: { lag: number; correlation: number } | undefined;
  for (let i = 1; i < curve.local.length - 1; i++) {
    if (!allowed(i) || i === best || !isTop(curve.scored, i)) continue;
    const lag = curve.first + i * curve.step;
    if (i >= hill.from && i <= hill.to) {
      if (curve.scored[i] >= NEARLY * curve.scored[best]) sameHill.push(lag);
    } else if (curve.coverage[i] >= 0.5 && Math.abs(i - best) * curve.step > 0.1) {
      if (second === undefined || curve.local[i] > second.correlation) second = { lag, correlation: curve.local[i] };
    }
  }
  return {
    lag: curve.first + (best + vertex(curve.scored, best)) * curve.step,
    correlation: curve.local[best],
    sameHill,
    second,
    width: (top.to - top.from) * curve.step,
  };
}

/** Two lags are told apart when one does not reach this share of the other. @source practice of the trade: 3 %; no source */
export const NEARLY = 0.97;
/** What stays above this share of the best belongs to the same hill. @source our default */
const HILL = 0.85;

function around(values: Float64Array, best: number, floor: number): { from: number; to: number } {
  let from = best;
  let to = best;
  while (from > 0 && values[from - 1] >= floor) from--;
  while (to < values.length - 1 && values[to + 1] >= floor) to++;
  return { from, to };
}

function isTop(values: Float64Array, i: number): boolean {
  return values[i] > values[i - 1] && values[i] >= values[i + 1];
}

/** Where the parabola through three neighbours has its top, in samples from the middle one. */
function vertex(values: Float64Array, i: number): number {
  const bend = values[i - 1] - 2 * values[i] + values[i + 1];
  const shift = bend < 0 ? (values[i - 1] - values[i + 1]) / (2 * bend) : 0;
  return Number.isFinite(shift) ? Math.max(-0.5, Math.min(0.5, shift)) : 0;
}

function squares(values: Float64Array): Float64Array {
  return values.map((x) => x * x);
}

function total(values: Float64Array): number {
  let sum = 0;
  for (const x of values) sum += x * x;
  return sum;
}
