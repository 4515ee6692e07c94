import { densest, type RatioCluster, ratioClusters } from '../../channels/index.ts';
import type { JoinedRecord } from '../record.ts';
import { type Drive, driveOf } from './drive.ts';

/** One gear: engine speed over roll surface speed [rad/m]. spread: scaled median absolute deviation of ln ratio. seconds: how long seen. */
export interface Gear {
  readonly gear: number;
  readonly ratio: number;
  readonly spread: number;
  readonly standardUncertainty: number;
  readonly seconds: number;
}

/** Gears seen in a record, shortest (largest ratio) first and numbered from 1 among those seen. */
export interface GearTable {
  readonly gears: readonly Gear[];
}

export interface RatioSeries {
  /** Even points [s]. */
  readonly step: number;
  /** [m/s] and [rad/s], NaN where unknown. */
  readonly speed: Float64Array;
  readonly engineSpeed: Float64Array;
  /** [m/s²]; finds stretches of low force. */
  readonly acceleration: Float64Array;
}

/** Gears of a joined record; empty without both speeds. */
export function gearsOf(record: JoinedRecord): GearTable {
  const drive = driveOf(record);
  return drive ? gearTable(drive) : { gears: [] };
}

/**
 * Gears from stretches in which the ratio stands still: its logarithm is grouped, and each group is read off at its densest spot
 * after what leans on acceleration (creep, a channel that is late) has been taken off.
 *
 * A stretch is stable when ln ratio changes by less than 2 % over 1 s (two points of a slow log). Below 1.5 m/s and below 60 rad/s nothing counts.
 *
 * @valid   gears at least 8 % apart; a slipping clutch or converter makes no stable ratio, and so no gear
 * @source  our default; checked on three drives of six-speed cars against the published gear find of their source
 */
export function gearTable(series: RatioSeries | Drive): GearTable {
  const { step, speed, engineSpeed, acceleration } = series;
  const logarithm = Float64Array.from(speed, (v, i) =>
    v > LEAST_SPEED && engineSpeed[i] > LEAST_ENGINE_SPEED ? Math.log(engineSpeed[i] / v) : Number.NaN,
  );
  const reach = Math.max(1, Math.round(0.5 / step));
  const stable = logarithm.map((x, i) => (isStable(logarithm, i, reach) ? x : Number.NaN));
  const clusters = ratioClusters(stable, { halfWidth: 0.04, share: 0.01, most: 12 }).filter(
    ({ count }) => count * step >= LEAST_SECONDS,
  );
  const growth = speed.map((v, i) => acceleration[i] / v);
  const lag = commonSlope(stable, growth, clusters);
  const level = stable.map((x, i) => x - (Number.isNaN(growth[i]) ? 0 : lag * growth[i]));
  const gears = clusters.map(({ middle }) => {
    const sorted = level.filter((x) => Math.abs(x - middle) <= 0.04).sort();
    const peak = densest(sorted, 0.006);
    const near = sorted.filter((x) => Math.abs(x - peak) <= 0.012);
    const centre = near[near.length >> 1];
    const apart = sorted.map((x) => Math.abs(x - centre)).sort();
    const spread = 1.4826 * apart[apart.length >> 1];
    const independent = Math.max(1, sorted.length * step);
    return {
      ratio: Math.exp(centre),
      spread,
      seconds: sorted.length * step,
      uncertainty: spread / Math.sqrt(independent),
    };
  });
  gears.sort((a, b) => b.ratio - a.ratio);
  return {
    gears: gears.map(({ ratio, spread, seconds, uncertainty }, k) => ({
      gear: k + 1,
      ratio,
      spread,
      seconds,
      standardUncertainty: ratio * uncertainty,
    })),
  };
}

/**
 * How ln ratio leans on the rate of change of speed, alike in all gears [s]: creep, and one channel that is later than the other.
 * The groups are read off at no acceleration.
 */
function commonSlope(stable: Float64Array, growth: Float64Array, clusters: readonly RatioCluster[]): number {
  let moment = 0;
  let square = 0;
  for (const { middle } of clusters) {
    const members: { x: number; g: number }[] = [];
    stable.forEach((x, i) => {
      if (Math.abs(x - middle) <= 0.04 && Math.abs(growth[i]) < 0.1) members.push({ x, g: growth[i] });
    });
    if (members.length < 5) continue;
    const meanX = members.reduce((sum, { x }) => sum + x, 0) / members.length;
    const meanG = members.reduce((sum, { g }) => sum + g, 0) / members.length;
    for (const { x, g } of members) {
      moment += (x - meanX) * (g - meanG);
      square += (g - meanG) ** 2;
    }
  }
  return square > 0 ? Math.max(-MOST_LAG, Math.min(MOST_LAG, moment / square)) : 0;
}

/** Number of the gear whose ratio is nearest, within 5 %; 0 when none is. */
export function gearOfRatio({ gears }: GearTable, ratio: number): number {
  let best = 0;
  let distance = 0.05;
  for (const gear of gears) {
    const apart = Math.abs(Math.log(ratio / gear.ratio));
    if (apart < distance) {
      best = gear.gear;
      distance = apart;
    }
  }
  return best;
}

/** [s] @source our default */
const MOST_LAG = 1.5;
const LEAST_SPEED = 1.5;
const LEAST_ENGINE_SPEED = 60;
/** A gear must be seen for this long in all [s]. @source our default */
const LEAST_SECONDS = 1.5;

function isStable(logarithm: Float64Array, i: number, reach: number): boolean {
  const before = logarithm[i - reach];
  const after = logarithm[i + reach];
  return Math.abs(after - before) < 0.02 && Math.abs(logarithm[i] - before) < 0.02;
}
