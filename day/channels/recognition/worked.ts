import { median, quantile } from '../../../core/numerics/index.ts';
import type { Channel } from '../channel.ts';

/** Columns in SI, all as long as the log; undefined where the log has none. */
export interface Known {
  readonly time: Float64Array | undefined;
  readonly speed: Float64Array | undefined;
  readonly force: Float64Array | undefined;
  readonly speedKind: 'roll-speed' | 'vehicle-speed';
}

/** What was done to a column before it was written. factor: ratio to the recomputed value. width: of the smoothing [s]. */
export interface Working {
  readonly origin: Channel['origin'];
  readonly reason: string;
  readonly factor?: number;
  readonly width?: number;
}

/** A ratio further than this from one is a factor somebody applied. @source our default, above rounding of 3 digits */
const FACTOR_SEEN = 0.008;
/** Spread of the ratio (middle half) up to which it counts as one constant factor. @source our default */
const FACTOR_SPREAD = 0.06;
/** Roughness of a column against the recomputed one below which it was smoothed. @source our default */
const SMOOTHED = 0.5;
/** Relative spread of engine speed over roll speed below which one was computed from the other. @source our default: a measured ratio keeps tyre creep of 0.1 % and more */
const DERIVED_SPREAD = 4e-4;
/** Rows needed for any of these statements. @source our default */
const ROWS = 40;

/** Compares a stated power with force × speed: a constant ratio is a correction, less fine movement is smoothing. */
export function statedPower(power: Float64Array, { time, speed, force }: Known): Working {
  const plain: Working = {
    origin: 'derived',
    reason: 'a power that the roller computed, with unknown correction and smoothing',
  };
  if (!speed || !force) return plain;
  const product = speed.map((v, i) => v * force[i]);
  const rows = significantRows(power, product);
  if (rows.length < ROWS) return plain;
  const ratios = rows.map((i) => power[i] / product[i]);
  const factor = median(ratios, 'skip');
  const spread =
    (quantile({ samples: ratios, probability: 0.75, missing: 'skip' }) -
      quantile({ samples: ratios, probability: 0.25, missing: 'skip' })) /
    factor;
  const scale = sumOver(power, rows) / sumOver(product, rows);
  const scaled = product.map((value) => value * scale);
  const rough = roughness(power, rows) / roughness(scaled, rows);
  const width = rough < SMOOTHED && time ? smoothingWidth({ power, product: scaled, time, rows }) : undefined;
  const corrected = Math.abs(factor - 1) > FACTOR_SEEN && spread < FACTOR_SPREAD;
  const parts = [
    ...(corrected ? [`${factor.toFixed(3)} times force × speed throughout: a correction is in it`] : []),
    ...(rough < SMOOTHED
      ? [`moves much less than force × speed: smoothed${width ? ` over about ${width.toFixed(2)} s` : ''}`]
      : []),
  ];
  if (parts.length === 0) {
    const same = Math.abs(factor - 1) <= FACTOR_SEEN && spread < FACTOR_SPREAD;
    return same
      ? { origin: 'derived', reason: 'equals force × speed: computed from them, nothing new in it', factor }
      : plain;
  }
  return {
    origin: corrected ? 'corrected' : 'smoothed',
    reason: parts.join('; '),
    factor,
    ...(width === undefined ? {} : { width }),
  };
}

/** Engine speed that is roll speed times a constant was not measured and cannot show slip. */
export function engineSpeedWorking(engineSpeed: Float64Array, speed: Float64Array): Working | undefined {
  const rows = significantRows(engineSpeed, speed);
  if (rows.length < ROWS) return undefined;
  const ratios = rows.map((i) => engineSpeed[i] / speed[i]);
  const middle = median(ratios, 'skip');
  const spread =
    (quantile({ samples: ratios, probability: 0.95, missing: 'skip' }) -
      quantile({ samples: ratios, probability: 0.05, missing: 'skip' })) /
    middle;
  const speeds = rows.map((i) => speed[i]);
  const range =
    quantile({ samples: speeds, probability: 0.95, missing: 'skip' }) /
    quantile({ samples: speeds, probability: 0.05, missing: 'skip' });
  if (!(spread < DERIVED_SPREAD) || !(range > 1.2)) return undefined;
  return {
    origin: 'derived',
    reason: `engine speed is roll speed times a constant (spread ${(spread * 100).toFixed(3)} %): computed from it, it cannot show slip`,
  };
}

function sumOver(samples: Float64Array, rows: readonly number[]): number {
  return rows.reduce((sum, i) => sum + samples[i], 0);
}

/** Rows in which both are well away from zero. */
function significantRows(a: Float64Array, b: Float64Array): readonly number[] {
  const high = (samples: Float64Array) => 0.3 * quantile({ samples, probability: 0.98, missing: 'skip' });
  const [floorA, floorB] = [high(a), high(b)];
  const rows: number[] = [];
  for (let i = 0; i < a.length; i++) if (a[i] > floorA && b[i] > floorB) rows.push(i);
  return rows;
}

/** Median size of the second difference over neighbouring rows: noise counts, trends do not. */
function roughness(samples: Float64Array, rows: readonly number[]): number {
  const seen: number[] = [];
  for (let k = 1; k < rows.length - 1; k++) {
    const i = rows[k];
    if (rows[k - 1] === i - 1 && rows[k + 1] === i + 1) {
      seen.push(Math.abs(samples[i - 1] - 2 * samples[i] + samples[i + 1]));
    }
  }
  return median(seen, 'skip');
}

interface Smoothing {
  readonly power: Float64Array;
  readonly product: Float64Array;
  readonly time: Float64Array;
  readonly rows: readonly number[];
}

/** Width of the moving average of force × speed that comes nearest to the stated power [s]; undefined when none comes near. */
function smoothingWidth({ power, product, time, rows }: Smoothing): number | undefined {
  const steps = Array.from(time.subarray(1), (value, i) => value - time[i]);
  const step = median(steps, 'skip');
  let best = { width: 0, off: Number.POSITIVE_INFINITY };
  for (let half = 1; half <= 100 && half * 2 < rows.length; half = Math.max(half + 1, Math.round(half * 1.15))) {
    const off = median(
      rows.map((i) => Math.abs(averageAround(product, { i, half }) - power[i])),
      'skip',
    );
    if (off < best.off) best = { width: (2 * half + 1) * step, off };
  }
  return Number.isFinite(best.off) && best.width > 0 ? best.width : undefined;
}

function averageAround(samples: Float64Array, { i, half }: { i: number; half: number }): number {
  let [sum, count] = [0, 0];
  for (let k = Math.max(0, i - half); k <= Math.min(samples.length - 1, i + half); k++) {
    if (Number.isFinite(samples[k])) {
      sum += samples[k];
      count += 1;
    }
  }
  return sum / count;
}
