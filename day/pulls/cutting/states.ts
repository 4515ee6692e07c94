import type { Segment } from '../segment.ts';
import type { Drive } from './drive.ts';

/** What the engine is asked to do at each point of the drive, and by which rule. */
export interface States {
  /** As long as the drive's points; undefined where nothing can be said (a gap, hard braking, a shift). */
  readonly kinds: readonly (Segment['kind'] | undefined)[];
  readonly rule: 'throttle' | 'load';
  /** The throttle never reaches 95 %, so load decides although a throttle is logged. */
  readonly neverFull: boolean;
  /** Throttle from which on it is full load [1]. */
  readonly fullThrottle: number;
}

/** @source practice of the trade: full load is a throttle of at least 95 % and stable; the rest our defaults */
export const CUTTING = {
  fullThrottle: 0.95,
  stableThrottle: 0.03,
  /** Share of the record's top power, or of its top force or acceleration, that counts as full load without a throttle. */
  powerShare: 0.6,
  forceShare: 0.75,
  /** At a standstill below this share of the top speed, or below 0.5 m/s. */
  standstill: 0.02,
  /** A hold changes its speed by less than this [1/s]. */
  steady: 0.004,
  /** Faster falls than this are braking [m/s²]. */
  braking: 2.2,
  closedThrottle: 0.06,
  /** Engine and roll are tied while their ratio moves by less than this share of the fall of speed. */
  tied: 0.5,
} as const;

/** State of every point. @param wanted throttle that counts as full [1]; default 0.95 */
export function statesOf(drive: Drive, wanted?: number): States {
  const fullThrottle = wanted !== undefined && wanted > 0 && wanted <= 1 ? wanted : CUTTING.fullThrottle;
  const throttleTop = topOf(drive.throttle, drive.step);
  const logged = drive.throttle.some((x) => !Number.isNaN(x));
  const neverFull = logged && !(throttleTop >= fullThrottle);
  const rule = logged && !neverFull ? 'throttle' : 'load';
  const load = loadOf(drive);
  const top = topOf(drive.speed, drive.step);
  const closed = closedThrottle(drive.throttle);
  const kinds = Array.from(drive.time, (_, i): Segment['kind'] | undefined => {
    if (Number.isNaN(drive.growth[i])) return undefined;
    if (isStandstill(drive, i, top)) return 'standstill';
    const steady = Math.abs(drive.growth[i]) < CUTTING.steady;
    const full = rule === 'throttle' ? isFullThrottle(drive, i, fullThrottle) && load.pulling(i) : load.high(i);
    if (full && !steady) return drive.growth[i] > 0 ? 'full-load' : undefined;
    if (steady) return 'hold';
    if (drive.growth[i] > 0) return 'part-load';
    if (drive.acceleration[i] < -CUTTING.braking) return undefined;
    if (drive.throttle[i] > closed) return 'part-load';
    return isTied(drive, i) ? 'overrun' : 'coast-down';
  });
  return { kinds, rule, neverFull, fullThrottle };
}

/** The value that is exceeded for one second in all: a top that a spike cannot make. */
export function topOf(values: Float64Array, step: number): number {
  const sorted = values.filter((x) => Number.isFinite(x)).sort();
  return sorted.length === 0 ? Number.NaN : sorted[Math.max(0, sorted.length - 1 - Math.round(1 / step))];
}

function isStandstill(drive: Drive, i: number, top: number): boolean {
  if (Number.isNaN(drive.speed[i])) return drive.lead.channel.meaning === 'engine-speed' && drive.engineSpeed[i] < 30;
  return drive.speed[i] < Math.max(0.5, CUTTING.standstill * top);
}

function isFullThrottle({ throttle, step }: Drive, i: number, fullThrottle: number): boolean {
  const reach = Math.max(1, Math.round(0.15 / step));
  if (!(throttle[i] >= fullThrottle)) return false;
  const before = throttle[Math.max(0, i - reach)];
  return !(Math.abs(throttle[i] - before) > CUTTING.stableThrottle);
}

interface Load {
  /** The vehicle is driven at all, not merely asked to. */
  readonly pulling: (i: number) => boolean;
  readonly high: (i: number) => boolean;
}

function loadOf(drive: Drive): Load {
  const { acceleration, speed, force, step, growth, wholeForce } = drive;
  const push = acceleration.map((a, i) => a * speed[i]);
  const power = force.map((f, i) => f * speed[i]);
  const tops = {
    push: topOf(push, step),
    power: topOf(power, step),
    acceleration: topOf(acceleration, step),
    force: topOf(force, step),
    growth: topOf(growth, step),
  };
  const ofForce = (i: number): boolean =>
    power[i] >= CUTTING.powerShare * tops.power || force[i] >= CUTTING.forceShare * tops.force;
  const ofSpeed = (i: number): boolean =>
    push[i] >= CUTTING.powerShare * tops.push || acceleration[i] >= CUTTING.forceShare * tops.acceleration;
  return {
    pulling: (i) => growth[i] > 0.1 * CUTTING.steady,
    high: (i) => {
      if (Number.isNaN(speed[i])) return growth[i] >= CUTTING.powerShare * tops.growth;
      if (!(acceleration[i] > 0.05 * tops.acceleration)) return false;
      if (Number.isNaN(force[i])) return ofSpeed(i);
      return wholeForce ? ofForce(i) : ofForce(i) || ofSpeed(i);
    },
  };
}

/** Below this the throttle counts as closed: a little above the lowest value it has while the record runs. */
function closedThrottle(throttle: Float64Array): number {
  const sorted = throttle.filter((x) => Number.isFinite(x)).sort();
  const low = sorted[Math.floor(0.02 * sorted.length)];
  return low === undefined ? Number.POSITIVE_INFINITY : Math.min(0.5, low + CUTTING.closedThrottle);
}

/** Engine and roll slow down alike over 1 s: their ratio moves by far less than the speed itself does. */
function isTied({ engineSpeed, speed, time, clutch }: Drive, i: number): boolean {
  if (clutch[i] > 0.5) return false;
  let a = i;
  let b = i;
  while (a > 0 && time[i] - time[a] < 0.5) a--;
  while (b < time.length - 1 && time[b] - time[i] < 0.5) b++;
  const fall = Math.log(speed[b] / speed[a]);
  const drift = Math.log(engineSpeed[b] / speed[b]) - Math.log(engineSpeed[a] / speed[a]);
  return engineSpeed[i] > 30 && fall < 0 && Math.abs(drift) < CUTTING.tied * Math.abs(fall);
}
