import { median, medianAbsoluteDeviation } from '../../../core/numerics/index.ts';
import { type Moving, middleStep } from './motion.ts';

/** Rolls count as slowing below this, and below so many times the noise of the acceleration [m/s²]. @source our default */
const LEAST = 0.05;
const ABOVE_NOISE = 6;
/** Slowing for so long before the force is believed: what drove or braked before has then died away [s]. @source our default */
const SETTLE = 1;
/** Least slowing that is believed [rows], [s]. @source our default */
const LEAST_ROWS = 25;
const LEAST_TIME = 1.5;
/** A brake setting below this share of its own largest value is off. @source our default */
const OFF = 0.02;
/** Deceleration must differ by this share of its middle for a slope. @source our default */
const SPREAD = 0.08;

/** What a force read while the rolls slowed down; middles, SI. */
export interface Slowing {
  /** N */
  readonly force: number;
  /** Standard error of `force` [N]. */
  readonly error: number;
  /** m/s², negative */
  readonly acceleration: number;
  /** Change of force over change of acceleration between the weakest and the strongest third [kg], and its standard error. */
  readonly slope: number;
  readonly slopeError: number;
  /** Change of force between the slowest and the fastest third [N]. */
  readonly bySpeed: number;
  /** Whether deceleration changes enough, for this noise of acceleration [m/s²], to speak of a slope. */
  readonly spreads: (noise: number) => boolean;
}

interface Asked {
  readonly moving: Moving;
  readonly acceleration: Float64Array;
  readonly noise: number;
  readonly force: Float64Array;
  /** With one, only rows count in which it is off. */
  readonly setting?: Float64Array | undefined;
  /** Only slowing stronger than this counts [m/s²]. */
  readonly limit: number;
}

/** The settled rows in which the rolls slow down, put together; undefined when there are too few. */
export function slowingOf(asked: Asked): Slowing | undefined {
  const { moving, acceleration, force } = asked;
  const rows = slowingRows(asked);
  const step = middleStep(moving.time);
  if (rows.length < LEAST_ROWS || rows.length * step < LEAST_TIME) return undefined;
  const third = Math.floor(rows.length / 3);
  const ends = (key: Float64Array) => {
    const sorted = rows.toSorted((a, b) => key[a] - key[b]);
    return { low: sorted.slice(0, third), high: sorted.slice(-third) };
  };
  const at = (samples: Float64Array, chosen: readonly number[]) =>
    median(
      chosen.map((i) => samples[i]),
      'skip',
    );
  const between = (samples: Float64Array, { low, high }: ReturnType<typeof ends>) =>
    at(samples, high) - at(samples, low);
  const bySlowing = ends(acceleration);
  const change = between(acceleration, bySlowing);
  const middle = at(acceleration, rows);
  const scatter = scatterOf(force, rows);
  return {
    force: at(force, rows),
    error: (1.2533 * scatter) / Math.sqrt(rows.length),
    acceleration: middle,
    slope: between(force, bySlowing) / change,
    slopeError: (1.2533 * scatter * Math.sqrt(2 / third)) / change,
    bySpeed: between(force, ends(moving.speed)),
    spreads: (noise) => change > SPREAD * Math.abs(middle) && change > ABOVE_NOISE * noise,
  };
}

function slowingRows({ moving, acceleration, noise, force, setting, limit }: Asked): readonly number[] {
  const bar = -Math.max(LEAST, ABOVE_NOISE * noise, limit);
  const open = setting ? OFF * highest(setting) : 0;
  const rows: number[] = [];
  let since = Number.NaN;
  for (let i = 0; i < acceleration.length; i++) {
    const slows = acceleration[i] < bar && !(setting && !(setting[i] <= open));
    if (!slows) since = Number.NaN;
    else if (Number.isNaN(since)) since = moving.time[i];
    if (slows && moving.time[i] - since >= SETTLE && Number.isFinite(force[i])) rows.push(i);
  }
  return rows;
}

function highest(samples: Float64Array): number {
  let most = 0;
  for (const value of samples) if (value > most) most = value;
  return most;
}

/** Standard deviation of neighbouring differences over √2: noise, not trend. */
function scatterOf(force: Float64Array, rows: readonly number[]): number {
  const steps = rows.flatMap((row, k) => (k > 0 && rows[k - 1] === row - 1 ? [force[row] - force[row - 1]] : []));
  return steps.length === 0 ? 0 : medianAbsoluteDeviation(steps, 'skip') / Math.SQRT2;
}
