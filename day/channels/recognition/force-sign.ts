import { quantile } from '../../../core/numerics/index.ts';
import type { Assessed } from './assessed.ts';
import { movingOf } from './force-kind.ts';
import { likeliestInSi } from './in-si.ts';
import { accelerationNoise, accelerationOf } from './motion.ts';

/** Acceleration is taken over so long [s]. @source our default */
const WINDOW = 1;
/** Rolls count as driven above this, and above so many times the noise of the acceleration [m/s²]. @source our default */
const LEAST = 0.2;
const ABOVE_NOISE = 6;
/** Driven rows needed. @source our default */
const ROWS = 25;
/** Share of the largest reading that still counts as noise around zero. @source our default */
const SMALL = 0.1;

/**
 * A tyre that speeds the rolls up pushes them forward, and a brake holds back: either is counted as positive. A force that is negative
 * in all of the driving has its sign turned round, or is something else: it is asked.
 */
export function withForceSign(columns: readonly Assessed[]): readonly Assessed[] {
  const moving = movingOf(columns);
  if (!moving || !columns.some(isForce)) return columns;
  const acceleration = accelerationOf(moving, WINDOW);
  const bar = Math.max(LEAST, ABOVE_NOISE * accelerationNoise(moving, WINDOW));
  return columns.map((each) => {
    const force = isForce(each) ? likeliestInSi(each) : undefined;
    if (!force) return each;
    const driven = Array.from(force).filter((value, i) => acceleration[i] > bar && Number.isFinite(value));
    return isNegative(driven) ? { ...each, doubt: question(each) } : each;
  });
}

function isForce({ candidates: [first] }: Assessed): boolean {
  return first?.meaning === 'brake-force' || first?.meaning === 'tractive-force';
}

function isNegative(driven: readonly number[]): boolean {
  if (driven.length < ROWS) return false;
  const at = (probability: number) => quantile({ samples: driven, probability, missing: 'skip' });
  const [lowest, middle, highest] = [at(0.02), at(0.5), at(0.98)];
  return middle < SMALL * lowest && highest < -SMALL * lowest;
}

function question({ column, shape }: Assessed): string {
  const shown = (value: number) => Number(value.toPrecision(4));
  return `"${column.name}" is negative while the rolls speed up (${shown(shape.lowest)} to ${shown(shape.highest)}): is its sign turned round? Braking and driving forces count as positive here.`;
}
