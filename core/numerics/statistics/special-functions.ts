/**
 * Natural logarithm of the gamma function [1].
 *
 * @param x > 0
 * @source  Lanczos, SIAM J. Numer. Anal. 1 (1964) 86, g = 7 with nine coefficients (from memory; checked against factorials)
 */
export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  let sum = LANCZOS[0];
  for (let k = 1; k < LANCZOS.length; k++) sum += LANCZOS[k] / (x - 1 + k);
  const t = x + 6.5;
  return 0.5 * Math.log(2 * Math.PI) + (x - 0.5) * Math.log(t) - t + Math.log(sum);
}

const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

/** The two parts of a whole; both are kept so that the small one loses no digits. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 − P [1].
 *
 * @param a > 0 @param x ≥ 0
 * @source  series and continued fraction of Abramowitz & Stegun 6.5.29 and 6.5.31; Lentz's evaluation
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (!(x > 0)) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let k = 1; k < MOST_TERMS && Math.abs(term) > Math.abs(sum) * PRECISION; k++) {
      term *= x / (a + k);
      sum += term;
    }
    return { lower: front * sum, upper: 1 - front * sum };
  }
  const upper = front / fraction((k) => ({ a: k === 0 ? 1 : -k * (k - a), b: x + 2 * k + 1 - a })).denominator;
  return { lower: 1 - upper, upper };
}

/** Both above 0. */
export interface BetaShape {
  readonly a: number;
  readonly b: number;
}

/**
 * Regularised incomplete beta functions I(x; a, b) and 1 − I [1].
 *
 * @param x          0 … 1
 * @param shape      a, b > 0
 * @param complement 1 − x, for a caller who knows it with more digits than the subtraction leaves
 * @source  continued fraction of Abramowitz & Stegun 26.5.8; Lentz's evaluation
 */
export function incompleteBeta(x: number, shape: BetaShape, complement: number = 1 - x): Tails {
  const { a, b } = shape;
  if (!(x > 0)) return { lower: 0, upper: 1 };
  if (!(complement > 0)) return { lower: 1, upper: 0 };
  if (x > (a + 1) / (a + b + 2)) {
    const mirrored = incompleteBeta(complement, { a: b, b: a }, x);
    return { lower: mirrored.upper, upper: mirrored.lower };
  }
  const logX = x < 0.5 ? Math.log(x) : Math.log1p(-complement);
  const logRest = complement < 0.5 ? Math.log(complement) : Math.log1p(-x);
  const front = Math.exp(a * logX + b * logRest - logBeta(a, b)) / a;
  const lower = front / fraction((k) => ({ a: betaTerm(k, x, shape), b: 1 })).denominator;
  return { lower, upper: 1 - lower };
}

/** ln B(a, b). For large shapes by differences of Stirling's series, which does not cancel. @source Abramowitz & Stegun 6.1.41, 6.2.2 */
function logBeta(a: number, b: number): number {
  const [small, large] = a < b ? [a, b] : [b, a];
  if (large < 100) return logGamma(a) + logGamma(b) - logGamma(a + b);
  const whole = small + large;
  const growth = (large - 0.5) * Math.log1p(small / large) + small * Math.log(whole) - small;
  return logGamma(small) - growth - stirlingRest(whole) + stirlingRest(large);
}

function stirlingRest(x: number): number {
  return 1 / (12 * x) - 1 / (360 * x ** 3) + 1 / (1260 * x ** 5);
}

const PRECISION = 1e-16;
const MOST_TERMS = 100000;

/** Modified Lentz: b0 + a1/(b1 + a2/(b2 + …)); the numerator of term 0 is not used. */
function fraction(term: (k: number) => { readonly a: number; readonly b: number }): { readonly denominator: number } {
  const tiny = 1e-300;
  let value = term(0).b || tiny;
  let c = value;
  let d = 0;
  for (let k = 1; k < MOST_TERMS; k++) {
    const { a, b } = term(k);
    d = 1 / (b + a * d || tiny);
    c = b + a / c || tiny;
    const change = c * d;
    value *= change;
    if (Math.abs(change - 1) < 4 * PRECISION) break;
  }
  return { denominator: value };
}

function betaTerm(k: number, x: number, { a, b }: BetaShape): number {
  if (k === 0) return 1;
  const m = Math.floor(k / 2);
  return k % 2 === 0
    ? (m * (b - m) * x) / ((a + k - 1) * (a + k))
    : (-(a + m) * (a + b + m) * x) / ((a + k - 1) * (a + k));
}
