import { median, quantile } from '../../../core/numerics/index.ts';
import { accelerationOf, middleStep } from './motion.ts';
import { averaged, calmed, fitted, type PowerFit, type PowerTerms, powerFit, smoothedTerms } from './power-fit.ts';
import type { Known, Working } from './worked.ts';

/** A ratio further than this from one is a factor somebody applied. @source our default, above rounding of 3 digits */
const FACTOR_SEEN = 0.008;
/** Spread of the ratio (middle half) up to which it counts as one constant factor. @source our default */
const FACTOR_SPREAD = 0.06;
/** What smoothing must leave of the squared mismatch before it is claimed; averaged noise alone leaves two thirds. @source variance of white noise through a triangular against a box window; the bar is our default */
const SMOOTHED = 0.1;
/** Widths tried [steps], [s]. @source our default */
const NARROWEST = 3;
const WIDEST = 4;
const FINER = 1.15;
/** What an inertia term must leave of the mismatch before it is believed, and the masses a roller has [kg]. @source our default */
const INERTIA = 0.6;
const MASS = [30, 20_000] as const;
/** Acceleration is taken over so long [s]. @source our default */
const WINDOW = 0.16;
/** Power and terms are averaged alike over so long before they are fitted: noise of the acceleration would pull the mass down [s]. @source our default */
const CALM = 0.6;
/** Power below this share of its top is left out: rollers cut it off at zero. @source our default */
const AT_WORK = 0.05;
const SIGNIFICANT = 0.3;
/** Rows needed, and rows looked at. @source our default */
const ROWS = 40;
const LOOKED_AT = 60_000;

const PLAIN: Working = {
  origin: 'derived',
  reason: 'a power that the roller computed, with unknown correction and smoothing',
};

/**
 * Holds a stated power against force × speed, with and without the power that accelerates a mass, and with and without smoothing.
 * A constant ratio is a factor; smoothing is claimed only where smoothing the recomputed power explains the stated one.
 * @source P = F v + m a v
 */
export function statedPower(power: Float64Array, known: Known): Working {
  const terms = termsOf(power, known);
  if (!terms || terms.rows.length < ROWS) return PLAIN;
  const sharp = chosen(terms);
  const smoothing = bestSmoothing(terms, sharp);
  const { fit, smooth } = smoothing ?? { fit: sharp, smooth: terms };
  const spread = spreadOf(smooth, fit);
  if (!(spread < FACTOR_SPREAD) || !(fit.factor > 0)) return PLAIN;
  const factor = Math.abs(fit.factor - 1) > FACTOR_SEEN ? fit.factor : undefined;
  const mass = fit.mass === 0 ? undefined : Number(fit.mass.toPrecision(2));
  const law = mass === undefined ? 'force × speed' : `(force + ${mass} kg × acceleration) × speed`;
  const parts = [
    ...(factor === undefined ? [] : [`${factor.toFixed(3)} times ${law} throughout: a correction is in it`]),
    ...(smoothing
      ? [`${factor === undefined ? `${law}, ` : ''}smoothed over about ${smoothing.width.toFixed(2)} s`]
      : []),
  ];
  if (parts.length === 0) {
    return { origin: 'derived', reason: `equals ${law}: computed from them, nothing new in it`, factor: fit.factor };
  }
  return {
    origin: factor === undefined ? 'smoothed' : 'corrected',
    reason: parts.join('; '),
    factor: fit.factor,
    ...(smoothing ? { width: smoothing.width } : {}),
  };
}

function termsOf(power: Float64Array, { time, speed, force }: Known): PowerTerms | undefined {
  if (!speed || !force) return undefined;
  const top = quantile({ samples: power, probability: 0.98, missing: 'skip' });
  const peak = power.findIndex((value) => value >= top);
  const from = Math.max(0, Math.min(peak - LOOKED_AT / 2, power.length - LOOKED_AT));
  const cut = (samples: Float64Array) => samples.slice(from, from + LOOKED_AT);
  const [p, v, f] = [cut(power), cut(speed), cut(force)];
  const acceleration = time ? accelerationOf({ time: cut(time), speed: v }, WINDOW) : undefined;
  const direct = v.map((value, i) => value * f[i]);
  const inertial = acceleration ? v.map((value, i) => value * acceleration[i]) : undefined;
  const rows = rowsWhere(p, (value, i) => value > AT_WORK * top && Number.isFinite(direct[i] + (inertial?.[i] ?? 0)));
  return { power: p, direct, inertial, rows, step: time ? middleStep(cut(time)) : Number.NaN };
}

/** With the inertia term only where it explains clearly more and its mass can be a roller's. */
function chosen(terms: PowerTerms): PowerFit {
  const calm = terms.step > 0 ? calmed(terms, Math.round(CALM / 2 / terms.step)) : terms;
  const plain = powerFit(calm, false);
  const full = terms.inertial ? powerFit(calm, true) : plain;
  const believed = full.mass > MASS[0] && full.mass < MASS[1] && full.factor > 0;
  return believed && full.mismatch < INERTIA * plain.mismatch ? full : plain;
}

interface Smoothing {
  readonly fit: PowerFit;
  readonly smooth: PowerTerms;
  readonly width: number;
}

/**
 * The width whose average of the recomputed power comes nearest to the stated one. Both mismatches are averaged over that same width
 * before they are compared, so that averaging noise away is not taken for smoothing.
 */
function bestSmoothing(terms: PowerTerms, sharp: PowerFit): Smoothing | undefined {
  let best: (Smoothing & { readonly share: number }) | undefined;
  for (let half = 1; (2 * half + 1) * terms.step <= WIDEST; half = Math.max(half + 1, Math.round(half * FINER))) {
    if (2 * half + 1 < NARROWEST || 4 * half > terms.rows.length) continue;
    for (const trailing of [false, true]) {
      const window = { half, trailing };
      const smooth = smoothedTerms(terms, window);
      const fit = chosen(smooth);
      const share = averagedMismatch({ terms: smooth, fit, half }) / averagedMismatch({ terms, fit: sharp, half });
      if (!best || share < best.share) best = { fit, smooth, width: (2 * half + 1) * terms.step, share };
    }
  }
  return best && best.share < SMOOTHED ? best : undefined;
}

function averagedMismatch({ terms, fit, half }: { terms: PowerTerms; fit: PowerFit; half: number }): number {
  const missed = terms.power.map((value, i) => value - fitted(fit, terms, i));
  const calm = averaged(missed, { half, trailing: false });
  return terms.rows.reduce((sum, i) => sum + (Number.isFinite(calm[i]) ? calm[i] ** 2 : 0), 0);
}

/** Middle half of the ratio to the law, in shares. */
function spreadOf(terms: PowerTerms, fit: PowerFit): number {
  const { power, rows } = terms;
  const top = quantile({ samples: power, probability: 0.98, missing: 'skip' });
  const ratios = rows.filter((i) => power[i] > SIGNIFICANT * top).map((i) => power[i] / fitted(fit, terms, i));
  if (ratios.length < ROWS) return Number.NaN;
  const at = (probability: number) => quantile({ samples: ratios, probability, missing: 'skip' });
  return at(0.75) - at(0.25) + Math.abs(median(ratios, 'skip') - 1);
}

function rowsWhere(samples: Float64Array, test: (value: number, i: number) => boolean): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < samples.length; i++) if (test(samples[i], i)) rows.push(i);
  return rows;
}
