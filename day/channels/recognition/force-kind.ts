import { median, quantile } from '../../../core/numerics/index.ts';
import type { Assessed } from './assessed.ts';
import { likeliestInSi } from './in-si.ts';
import { accelerationNoise, accelerationOf, type Moving } from './motion.ts';
import { type Slowing, slowingOf } from './slowing.ts';

/** Acceleration is taken over so long [s]. @source our default */
const WINDOW = 1;
/** A force that never rises this far above its own noise was never at work and tells nothing. @source our default */
const ACTIVE = 15;
/** Share of the top force that counts as a zero's noise, and the largest believed zero offset. @source our default */
const ZERO_NOISE = 0.007;
const LARGEST_OFFSET = 0.05;
/** No roller's turning parts are lighter than this, all are heavier than that [kg]. @source common practice, no source; our default */
const NO_MASS = 40;
const LEAST_MASS = 60;
const MOST_MASS = 20_000;
/** How far the mass between strong and weak slowing may be from the mass of all slowing. @source our default */
const FOLLOWS = 0.3;
/** Force that the mass leaves unexplained may be this far below zero while driving, as a share of the top: a brake only holds back. @source our default */
const PUSHES = 0.1;
/** Slowing so strong that even a light roller's force could not hide in the noise of the zero [m/s²]. @source our default */
const STRONG = 1.5;
/** What is left for the other kind once the numbers have spoken. @source our default */
const SETTLED = 0.92;

/**
 * Settles whether a bare force is the brake's or the whole force, from what it reads while the rolls slow down. A whole force is then
 * mass times deceleration; a brake that is off reads its zero. Drag alone can be a few hundredths of the top force, so that a small
 * reading proves nothing. Whatever is neither stays a question.
 * @source Newton's second law
 */
export function withForceKind(columns: readonly Assessed[]): readonly Assessed[] {
  if (!columns.some(isBareForce)) return columns;
  const moving = movingOf(columns);
  if (!moving) return columns;
  const setting = columns.find(({ candidates: [first] }) => first?.meaning === 'brake-setting');
  const rolling = {
    moving,
    acceleration: accelerationOf(moving, WINDOW),
    noise: accelerationNoise(moving, WINDOW),
    setting: setting?.column.samples,
  };
  return columns.map((each) => (isBareForce(each) ? settledForce(each, rolling) : each));
}

/** Time and roll speed of the table in SI; undefined without either. */
export function movingOf(columns: readonly Assessed[]): Moving | undefined {
  const samplesOf = (meaning: string) => {
    const found = columns.find(({ hypotheses, candidates: [first] }) => first?.meaning === meaning && hypotheses[0]);
    return found && likeliestInSi(found);
  };
  const [time, speed] = [samplesOf('time'), samplesOf('roll-speed')];
  return time && speed ? { time, speed } : undefined;
}

/** A force whose words leave brake and whole open. */
export function isBareForce({ candidates: [first, second] }: Assessed): boolean {
  const kinds = new Set([first?.meaning, second?.meaning]);
  return kinds.has('brake-force') && kinds.has('tractive-force') && first !== undefined && first.score < 0.75;
}

interface Rolling {
  readonly moving: Moving;
  /** m/s² */
  readonly acceleration: Float64Array;
  readonly noise: number;
  readonly setting: Float64Array | undefined;
}

function settledForce(each: Assessed, rolling: Rolling): Assessed {
  const kind = kindOf(likeliestInSi(each), rolling);
  const chosen = each.candidates.find(({ meaning }) => meaning === kind?.meaning);
  if (!chosen || !kind) return each;
  const others = each.candidates
    .filter((one) => one !== chosen)
    .map((one) => ({ ...one, score: Math.min(one.score, 1 - SETTLED) }));
  const hypotheses = each.hypotheses.map((one) => ({
    ...one,
    meaning: chosen.meaning,
    because: [...one.because, kind.because],
  }));
  return { ...each, candidates: [{ ...chosen, score: SETTLED }, ...others], hypotheses };
}

interface Kind {
  readonly meaning: 'brake-force' | 'tractive-force';
  readonly because: string;
}

function kindOf(force: Float64Array | undefined, rolling: Rolling): Kind | undefined {
  if (!force) return undefined;
  const top = quantile({ samples: force, probability: 0.98, missing: 'skip' });
  if (!(top > ACTIVE * noiseOf(force))) return undefined;
  const slowing = slowingOf({ ...rolling, force, limit: 0 });
  if (slowing && isWhole(slowing, { force, top, rolling })) {
    const because = `follows ${Number((slowing.force / slowing.acceleration).toPrecision(2))} kg × deceleration while the rolls slow down`;
    return { meaning: 'tractive-force', because };
  }
  const { setting } = rolling;
  const share = (reading: number) => `${((100 * reading) / top).toFixed(1)} % of its top`;
  const off = setting && slowingOf({ ...rolling, force, setting, limit: 0 });
  if (off && isZero(off, { top, noise: rolling.noise })) {
    return {
      meaning: 'brake-force',
      because: `reads its zero while the brake is off and the rolls slow down (${share(off.force)})`,
    };
  }
  const strong = setting ? undefined : slowingOf({ ...rolling, force, limit: STRONG });
  if (!strong || Math.abs(strong.force) >= ZERO_NOISE * top || !massless(strong)) return undefined;
  return {
    meaning: 'brake-force',
    because: `reads nothing while the rolls slow down hard (${share(strong.force)})`,
  };
}

interface Against {
  readonly force: Float64Array;
  readonly top: number;
  readonly rolling: Rolling;
}

/** Clearly negative, in proportion to deceleration, with a mass that leaves no pushing brake in the driving part. */
function isWhole(slowing: Slowing, { force, top, rolling: { acceleration, noise } }: Against): boolean {
  const mass = slowing.force / slowing.acceleration;
  if (!(slowing.force < -5 * slowing.error) || !(mass > LEAST_MASS && mass < MOST_MASS)) return false;
  if (!slowing.spreads(noise) || Math.abs(slowing.slope / mass - 1) > FOLLOWS + 2 * (slowing.slopeError / mass))
    return false;
  if (slowing.slopeError > FOLLOWS * mass) return false;
  const rest = Array.from(force, (value, i) => (acceleration[i] > 0 ? value - mass * acceleration[i] : Number.NaN));
  const known = rest.filter(Number.isFinite);
  return known.length === 0 || quantile({ samples: known, probability: 0.05, missing: 'skip' }) > -PUSHES * top;
}

/** The noise of the zero, or a zero that is off and does not care how the rolls move. */
function isZero(slowing: Slowing, { top, noise }: { readonly top: number; readonly noise: number }): boolean {
  if (Math.abs(slowing.force) < ZERO_NOISE * top && massless(slowing)) return true;
  return (
    Math.abs(slowing.force) < LARGEST_OFFSET * top &&
    slowing.spreads(noise) &&
    Math.abs(slowing.slope) + 2 * slowing.slopeError < NO_MASS &&
    Math.abs(slowing.bySpeed) < ZERO_NOISE * top
  );
}

/** True when the reading is too small for any roller's mass at this deceleration. */
function massless({ force, error, acceleration }: Slowing): boolean {
  return Math.abs(force) + 2 * error < NO_MASS * Math.abs(acceleration);
}

/** Middle step between neighbouring samples. */
function noiseOf(samples: Float64Array): number {
  const steps = Array.from(samples, (value, i) => Math.abs(value - samples[i - 1])).filter(Number.isFinite);
  return steps.length === 0 ? 0 : median(steps, 'skip');
}
