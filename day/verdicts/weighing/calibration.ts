import type { LogisticLine } from './model.ts';

/** A claim and what was true: probability told 0 … 1, and whether it was so. */
export interface Claim {
  readonly probability: number;
  readonly right: boolean;
}

/** Probabilities stay this far from 0 and 1: nothing that was learnt from a few hundred days is surer. @source our default */
const SUREST = 0.003;

/** ln p/(1 − p), with p kept away from 0 and 1. */
export function lnOdds(probability: number): number {
  const p = Math.min(1 - 1e-9, Math.max(1e-9, probability));
  return Math.log(p / (1 - p));
}

/** A probability as a group's calibration tells it [1], monotone in the given one. */
export function calibrated(probability: number, { slope, intercept }: LogisticLine): number {
  const told = 1 / (1 + Math.exp(-(intercept + slope * lnOdds(probability))));
  return Math.min(1 - SUREST, Math.max(SUREST * probability, told));
}

/**
 * The logistic line that makes claims fit what was true best, held to a prior line by a ridge: few claims move it little.
 *
 * @param strength weight of the prior line, in claims
 * @source logistic regression by Newton's method (Cox 1958); for calibration: Platt 1999. The ridge is our default
 */
export function fittedLine(
  claims: readonly Claim[],
  prior: LogisticLine = { slope: 1, intercept: 0 },
  strength = 2,
): LogisticLine {
  const points = claims.map(({ probability, right }) => ({ x: lnOdds(probability), y: right ? 1 : 0 }));
  let { slope, intercept } = prior;
  for (let step = 0; step < 50; step++) {
    let [g0, g1] = [-strength * (intercept - prior.intercept), -strength * 4 * (slope - prior.slope)];
    let [h00, h01, h11] = [strength, 0, 4 * strength];
    for (const { x, y } of points) {
      const p = 1 / (1 + Math.exp(-(intercept + slope * x)));
      const w = Math.max(1e-6, p * (1 - p));
      g0 += y - p;
      g1 += (y - p) * x;
      h00 += w;
      h01 += w * x;
      h11 += w * x * x;
    }
    const determinant = h00 * h11 - h01 * h01;
    const moves = { intercept: (h11 * g0 - h01 * g1) / determinant, slope: (h00 * g1 - h01 * g0) / determinant };
    // A step of Newton's method may overshoot where few claims carry the line: it is shortened.
    const share = Math.min(1, 1 / Math.max(Math.abs(moves.intercept), Math.abs(moves.slope), 1e-12));
    intercept += share * moves.intercept;
    slope += share * moves.slope;
    if (Math.abs(moves.intercept) + Math.abs(moves.slope) < 1e-9) break;
  }
  // A line that falls would make the surest claim the least believed.
  return { slope: Math.max(0.05, slope), intercept };
}

/** Mean squared difference of probability and truth: 0 is perfect, 0.25 knows nothing; NaN without a claim. @source Brier, Mon. Weather Rev. 78 (1950) 1 */
export function brierScore(claims: readonly Claim[]): number {
  return claims.reduce((sum, { probability, right }) => sum + (probability - (right ? 1 : 0)) ** 2, 0) / claims.length;
}

/** One bin of a reliability diagram: claims of like probability, their mean, how many were right, and the 95 % interval of that share. */
export interface ReliabilityBin {
  readonly claims: number;
  readonly told: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Claims in bins of equal width; empty bins are left out. @source interval: Wilson, J. Am. Stat. Assoc. 22 (1927) 209 */
export function reliability(claims: readonly Claim[], bins = 10): readonly ReliabilityBin[] {
  return Array.from({ length: bins }, (_, k) => {
    const inside = claims.filter(({ probability }) => Math.min(bins - 1, Math.floor(probability * bins)) === k);
    const right = inside.filter((claim) => claim.right).length;
    const told = inside.reduce((sum, { probability }) => sum + probability, 0) / inside.length;
    return { claims: inside.length, told, right: right / inside.length, ...wilson(right, inside.length) };
  }).filter(({ claims: count }) => count > 0);
}

/** 95 % interval of a share from `hits` of `count`; 0 … 1 when nothing was counted. @source Wilson 1927 */
export function wilson(hits: number, count: number): { readonly low: number; readonly high: number } {
  if (count === 0) return { low: 0, high: 1 };
  const z = 1.96;
  const share = hits / count;
  const middle = (share + (z * z) / (2 * count)) / (1 + (z * z) / count);
  const half = (z / (1 + (z * z) / count)) * Math.sqrt((share * (1 - share)) / count + (z * z) / (4 * count * count));
  return { low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** Expected calibration error: mean distance of told and right over the bins, weighted by their claims [1]; NaN without a claim. */
export function calibrationError(claims: readonly Claim[], bins = 10): number {
  return reliability(claims, bins).reduce(
    (sum, bin) => sum + (Math.abs(bin.told - bin.right) * bin.claims) / claims.length,
    claims.length > 0 ? 0 : Number.NaN,
  );
}
