import type { Meaning } from '../meanings.ts';
import type { ClockedChannel } from './join.ts';
import { sampleTrack } from './sample-track.ts';

/**
 * How late a sensor tells: transport delay falling with engine speed, and a first-order lag behind it.
 *
 *     delay(ω) = fixed + travel/ω        fixed [s], travel [rad]: crank angle that passes while the gas travels
 *
 * lag [s]: time constant; a steady rise is shown late by it. uncertainty [s] of delay + lag.
 */
export interface SensorDelay {
  readonly meaning: Meaning;
  readonly fixed: number;
  readonly travel: number;
  readonly lag: number;
  readonly uncertainty: number;
  readonly origin: string;
}

const PRACTICE = 'common practice, no source';

/** Delays taken where nothing better is known. @source common practice, no source; lambda 50–400 ms transport and 30–100 ms lag */
export const SENSOR_DELAYS: readonly SensorDelay[] = [
  { meaning: 'lambda', fixed: 0.03, travel: 45, lag: 0.05, uncertainty: 0.08, origin: PRACTICE },
  { meaning: 'charge-temperature', fixed: 0, travel: 0, lag: 3, uncertainty: 2, origin: PRACTICE },
  { meaning: 'compressor-outlet-temperature', fixed: 0, travel: 0, lag: 2, uncertainty: 1.5, origin: PRACTICE },
  { meaning: 'exhaust-temperature', fixed: 0, travel: 0, lag: 1.2, uncertainty: 0.8, origin: PRACTICE },
  { meaning: 'coolant-temperature', fixed: 0, travel: 0, lag: 5, uncertainty: 3, origin: PRACTICE },
  { meaning: 'oil-temperature', fixed: 0, travel: 0, lag: 5, uncertainty: 3, origin: PRACTICE },
  { meaning: 'gearbox-temperature', fixed: 0, travel: 0, lag: 6, uncertainty: 4, origin: PRACTICE },
  { meaning: 'axle-temperature', fixed: 0, travel: 0, lag: 6, uncertainty: 4, origin: PRACTICE },
  { meaning: 'fuel-temperature', fixed: 0, travel: 0, lag: 4, uncertainty: 3, origin: PRACTICE },
];

/** Transport delay and lag together at an engine speed [s]. @param engineSpeed [rad/s]; below idle (60) that of idle */
export function delayAt({ fixed, travel, lag }: SensorDelay, engineSpeed: number): number {
  return fixed + travel / Math.max(60, engineSpeed) + lag;
}

/** The stated prior of a meaning; undefined for sensors that tell at once. */
export function usualDelay(meaning: Meaning): SensorDelay | undefined {
  return SENSOR_DELAYS.find((delay) => delay.meaning === meaning);
}

/**
 * The same samples at the times they speak of: every time earlier by delay and lag. No value is changed or made; times stay
 * increasing. Where the engine speed is not known, the last known one counts, at the start that of 3000 rpm.
 *
 * @param engineSpeed track [rad/s]; needed only where the delay depends on it
 */
export function undelayed(track: ClockedChannel, delay: SensorDelay, engineSpeed?: ClockedChannel): ClockedChannel {
  const speeds = engineSpeed && delay.travel !== 0 ? sampleTrack(engineSpeed, track.times) : undefined;
  const times = new Float64Array(track.times.length);
  let speed = Math.PI * 100;
  for (const { from, to } of track.pieces) {
    for (let i = from; i < to; i++) {
      if (speeds !== undefined && !Number.isNaN(speeds[i])) speed = speeds[i];
      const t = track.times[i] - delayAt(delay, speed);
      times[i] = i > from ? Math.max(t, times[i - 1] + 1e-6) : t;
    }
  }
  return { ...track, times };
}

export interface DelayEvidence {
  readonly lambda: ClockedChannel;
  readonly engineSpeed: ClockedChannel;
  /** What the mixture follows: injector pulse or duty, fuel flow, or the throttle. Falls to a fifth at a fuel cut. */
  readonly command: ClockedChannel;
}

/** Smallest rise of lambda that counts as the answer to a fuel cut [1], and how long it is waited for [s]. @source our default */
const RISE = 0.08;
const WAIT = 1;

/**
 * Lambda delay measured at fuel cuts: from the command falling to a fifth until lambda has gone a tenth of its way. The prior's
 * fixed part and lag stay; the travel is the median over the cuts. The prior comes back unchanged when there is no usable cut.
 *
 * @source  definition of a dead time by its 10 % point; our default
 */
export function measuredLambdaDelay(evidence: DelayEvidence, prior: SensorDelay): SensorDelay {
  const travels = fuelCuts(evidence.command).flatMap((t) => travelAt(t, evidence, prior) ?? []);
  if (travels.length === 0) return prior;
  const sorted = [...travels].sort((a, b) => a.travel - b.travel);
  const { travel, speed } = sorted[sorted.length >> 1];
  const apart = sorted.map((each) => Math.abs(each.travel - travel) / speed).sort((a, b) => a - b);
  const scatter = (1.4826 * apart[apart.length >> 1]) / Math.sqrt(sorted.length);
  const uncertainty = Math.hypot(0.02, sorted.length > 1 ? scatter : 0.03);
  return {
    ...prior,
    travel,
    uncertainty,
    origin: `measured at ${sorted.length} fuel cut${sorted.length > 1 ? 's' : ''}`,
  };
}

/** Times at which the command, at work for 0.5 s before, falls below a fifth of what it was and stays there for 0.3 s. */
function fuelCuts({ channel, times, pieces }: ClockedChannel): number[] {
  const cuts: number[] = [];
  for (const { from, to } of pieces) {
    let busySince = Number.NaN;
    let level = 0;
    for (let i = from; i < to; i++) {
      const value = channel.mask[i] === 0 ? channel.samples[i] : Number.NaN;
      if (value > 0.2 * level && value > 0) {
        if (Number.isNaN(busySince)) busySince = times[i];
        level = Math.max(value, level * 0.98);
      } else if (level > 0) {
        if (
          times[i] - busySince > 0.5 &&
          staysLow({ channel, times, pieces: [{ from: i, to }], file: '' }, 0.2 * level)
        )
          cuts.push(times[i]);
        level = 0;
        busySince = Number.NaN;
      }
    }
  }
  return cuts;
}

function staysLow({ channel, times, pieces }: ClockedChannel, limit: number): boolean {
  const { from, to } = pieces[0];
  for (let i = from; i < to && times[i] <= times[from] + 0.3; i++) if (channel.samples[i] > limit) return false;
  return true;
}

function travelAt(
  t: number,
  { lambda, engineSpeed }: DelayEvidence,
  prior: SensorDelay,
): { travel: number; speed: number } | undefined {
  const grid = Float64Array.from({ length: 151 }, (_, k) => t - 0.5 + (k * (WAIT + 0.5)) / 150);
  const values = sampleTrack(lambda, grid);
  const before = values.slice(0, 50).filter((value) => !Number.isNaN(value));
  const speed = sampleTrack(engineSpeed, [t])[0];
  if (before.length < 10 || !(speed > 60)) return undefined;
  const level = before.reduce((sum, value) => sum + value, 0) / before.length;
  const top = Math.max(...values.slice(50).map((value) => (Number.isNaN(value) ? level : value)));
  if (top - level < RISE) return undefined;
  const answer = values.findIndex((value, k) => k >= 50 && value - level > 0.1 * (top - level));
  // the tenth of the way that the lag itself takes is no transport
  const delay = grid[answer] - t - 0.105 * prior.lag - prior.fixed;
  return delay > 0 && delay < WAIT ? { travel: delay * speed, speed } : undefined;
}
