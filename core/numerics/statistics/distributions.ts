import { bracketedRoot } from '../calculus/roots.ts';
import { incompleteBeta, incompleteGamma, type Tails } from './special-functions.ts';

/** Degrees of freedom of numerator and denominator, both > 0. */
export interface FShape {
  readonly numerator: number;
  readonly denominator: number;
}

/** Probability below z of the standard normal distribution [1]. @source Abramowitz & Stegun 26.2.29, 7.1 through P(½, z²/2) */
export function normalCdf(z: number): number {
  const { lower, upper } = incompleteGamma(0.5, (z * z) / 2);
  return z < 0 ? upper / 2 : 0.5 + lower / 2;
}

/** z below which a standard normal value lies with probability p: ∓∞ at 0 and 1, NaN outside. */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0.5) return 0;
  if (p > 0.5) return -normalQuantile(1 - p);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  return bracketedRoot((z) => Math.log(normalCdf(z) / p), { lower: -39, upper: 0, tolerance: 1e-14 });
}

/** Probability below t of Student's distribution [1]. @param freedom > 0, need not be whole @source Abramowitz & Stegun 26.7.1 */
export function studentCdf(t: number, freedom: number): number {
  if (freedom === Number.POSITIVE_INFINITY) return normalCdf(t);
  const whole = freedom + t * t;
  const { lower, upper } = incompleteBeta(freedom / whole, { a: freedom / 2, b: 0.5 }, (t * t) / whole);
  return t < 0 ? lower / 2 : 0.5 + upper / 2;
}

/** t below which a value of Student's distribution lies with probability p. @param freedom > 0 @valid 1e-10 up to 1e7 degrees of freedom, 1e-8 beyond */
export function studentQuantile(p: number, freedom: number): number {
  if (!(p >= 0 && p <= 1) || !(freedom > 0)) return Number.NaN;
  if (p === 0.5) return 0;
  if (p > 0.5) return -studentQuantile(1 - p, freedom);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  const f = (t: number): number => Math.log(studentCdf(t, freedom) / p);
  return bracketedRoot(f, { lower: -reach((t) => f(-t) > 0), upper: 0, tolerance: 1e-14 });
}

/** Probability below x of the chi-squared distribution [1]. @param freedom > 0 @source Abramowitz & Stegun 26.4.19 */
export function chiSquaredCdf(x: number, freedom: number): number {
  return incompleteGamma(freedom / 2, x / 2).lower;
}

/** x below which a chi-squared value lies with probability p. @param freedom > 0 */
export function chiSquaredQuantile(p: number, freedom: number): number {
  if (!(freedom > 0)) return Number.NaN;
  return positiveQuantile(p, (x) => incompleteGamma(freedom / 2, x / 2));
}

/** Probability below x of the F distribution [1]. @source Abramowitz & Stegun 26.6.2 */
export function fCdf(x: number, shape: FShape): number {
  return fTails(x, shape).lower;
}

/** Probability above x of the F distribution [1], exact also where it is tiny. */
export function fUpperTail(x: number, shape: FShape): number {
  return fTails(x, shape).upper;
}

/** x below which an F value lies with probability p. */
export function fQuantile(p: number, shape: FShape): number {
  if (!(shape.numerator > 0 && shape.denominator > 0)) return Number.NaN;
  return positiveQuantile(p, (x) => fTails(x, shape));
}

function fTails(x: number, { numerator, denominator }: FShape): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1 };
  const whole = denominator + numerator * x;
  const share = (numerator * x) / whole;
  return incompleteBeta(share, { a: numerator / 2, b: denominator / 2 }, denominator / whole);
}

/** Solved on the smaller tail and in the logarithm of x, so that both far ends keep their digits. */
function positiveQuantile(p: number, tails: (x: number) => Tails): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (p === 0) return 0;
  if (p === 1) return Number.POSITIVE_INFINITY;
  const miss = (x: number): number => (p < 0.5 ? Math.log(tails(x).lower / p) : Math.log((1 - p) / tails(x).upper));
  const upper = Math.log(reach((x) => miss(x) < 0));
  const lower = -Math.log(reach((x) => miss(1 / x) > 0));
  return Math.exp(bracketedRoot((logX) => miss(Math.exp(logX)), { lower, upper, tolerance: 1e-14 }));
}

/** First power of two from 1 on for which the statement fails. */
function reach(holds: (x: number) => boolean): number {
  let x = 1;
  while (x < 1e300 && holds(x)) x *= 2;
  return x;
}
