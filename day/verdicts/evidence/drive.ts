import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../scene/scene.ts';
import { band, finite, middle, runningDeviation, type Series, slope, smooth } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/** The drive is seen on at most this grid [Hz], and roughness only from this rate on. @source our default: 20 Hz needs 40 values a second at least */
const FINEST = 100;
const SLOWEST = 40;
/** Tip-in, while boost builds, and lift-off stay out: after the start and before the end [s]. @source our default */
const AFTER_START = 1;
const BEFORE_END = 0.35;

/** Force at the roll surface with what speeds the rolls up in it [N], on equally spaced times; undefined when it cannot be known. */
export const driveForce: (scene: PullScene) => Series | undefined = keptOf(measuredForce);

function measuredForce(scene: PullScene): Series | undefined {
  const whole = sceneTrack(scene, 'tractive-force');
  if (whole) {
    const times = gridOf(scene, Math.min(FINEST, whole.rate));
    return { times, values: onTimes(whole, times) };
  }
  const motion = motionOf(scene);
  const mass = scene.facts.roller.equivalentMass?.value;
  if (!motion || mass === undefined) return undefined;
  const times = gridOf(scene, Math.min(FINEST, motion.track.rate));
  const speed = onTimes(motion.track, times).map((value) => value * motion.scale);
  const acceleration = slope({ times, values: speed }, 10);
  const brake = brakeForce(scene, times);
  return { times, values: acceleration.map((a, i) => mass * a + (brake ? brake[i] : 0)) };
}

function brakeForce(scene: PullScene, times: Float64Array): Float64Array | undefined {
  const force = scene.facts.roller.kind === 'inertia' ? undefined : sceneTrack(scene, 'brake-force');
  if (force) return onTimes(force, times);
  const torque = sceneTrack(scene, 'roll-torque');
  const radius = scene.facts.roller.rollRadius?.value;
  return torque && radius ? onTimes(torque, times).map((value) => value / radius) : undefined;
}

/** What the rolls' motion is taken from: their own speed when it is fast enough, else engine speed over the ratio. */
function motionOf(scene: PullScene): { track: SceneTrack; scale: number } | undefined {
  const roll = rollSpeed(scene);
  const ratio = scene.pull.segment.ratio;
  const engine = scene.engineSpeed;
  if (roll && roll.track.rate >= SLOWEST) return roll;
  if (engine && ratio !== undefined && engine.rate > (roll?.track.rate ?? 0))
    return { track: engine, scale: 1 / ratio };
  return roll;
}

/** Roll surface speed: the track and what turns it into m/s. */
export function rollSpeed(scene: PullScene): { track: SceneTrack; scale: number } | undefined {
  const surface = sceneTrack(scene, 'roll-speed');
  if (surface) return { track: surface, scale: 1 };
  const rotation = sceneTrack(scene, 'roll-rotation');
  const radius = scene.facts.roller.rollRadius?.value;
  return rotation && radius ? { track: rotation, scale: radius } : undefined;
}

/**
 * How rough the drive is: deviation of the force between 4 and 20 Hz over its mean [1], within ±0.15 s, on `times` [s].
 * quiet: what this pull has in its quiet part. rough: above the thresholds. force: smoothed to 1 Hz [N].
 */
export interface Roughness {
  readonly times: Float64Array;
  readonly share: Float64Array;
  readonly quiet: number;
  readonly rough: (index: number) => boolean;
  readonly force: Float64Array;
  readonly swing: Float64Array;
}

/** Noise alone makes the deviation wander: it stays below quiet by so many times the width of its quiet part. @source our default: from the tails of χ with 2 to 8 degrees of freedom */
const WIDTHS = 6;

/**
 * Roughness of the drive over the pull; a sentence when it cannot be known. Quiet is the quieter of this pull's own quiet part and of what
 * the day's other pulls have, so that a pull that is rough throughout is seen.
 *
 * @source index: common practice, no source
 */
export const roughness: (scene: PullScene, limits: Limits) => Roughness | string = kept(comparedRoughness);

function comparedRoughness(scene: PullScene, limits: Limits): Roughness | string {
  const own = ownRoughness(scene);
  if (typeof own === 'string') return own;
  const others = scene.references.slice(0, REFERENCES).flatMap((other) => {
    const beside = ownRoughness(other);
    return typeof beside === 'string' ? [] : [beside.quiet];
  });
  const quiet = others.length > 0 ? Math.min(own.quiet, middle(others)) : own.quiet;
  const times = Math.max(limits['roughness.times'].value, 1 + WIDTHS * own.width);
  const least = limits['roughness.share'].value;
  return {
    ...own,
    quiet,
    rough: (i) => own.share[i] > least && own.share[i] * own.force[i] > times * quiet * own.typical,
  };
}

/** quiet: share of the typical force; width: how far the 5 % quantile is below quiet, as a share of it [1]; typical: middle force [N]. */
interface OwnRoughness extends Omit<Roughness, 'rough'> {
  readonly width: number;
  readonly typical: number;
}

/** Other pulls that say what is quiet. @source our default */
const REFERENCES = 5;
const ownRoughness: (scene: PullScene) => OwnRoughness | string = keptOf(measuredRoughness);

function measuredRoughness(scene: PullScene): OwnRoughness | string {
  const drive = driveForce(scene);
  if (!drive) return 'neither a whole force nor roll speed with an equivalent mass';
  const rate = 1 / (drive.times[1] - drive.times[0]);
  if (rate < SLOWEST - 1) {
    return `the drive is renewed ${rate.toFixed(0)} times a second, too slowly to see it misfire (from ${SLOWEST})`;
  }
  const force = smooth(drive, 1);
  const swing = band(drive, 4, Math.min(20, rate / 5));
  const deviation = runningDeviation({ times: drive.times, values: swing }, 0.15);
  const top = Math.max(...finite(force), 0);
  const share = deviation.map((value, i) =>
    drive.times[i] < scene.from + AFTER_START || drive.times[i] > scene.to - BEFORE_END || !(force[i] > 0.1 * top)
      ? Number.NaN
      : value / force[i],
  );
  const sorted = finite(share.map((value, i) => value * force[i])).sort((a, b) => a - b);
  if (sorted.length < rate) return 'too little of the pull without a gap';
  const usual = middle(force);
  const [lowest, quiet] = [sorted[Math.floor(0.05 * sorted.length)], sorted[Math.floor(0.3 * sorted.length)]];
  return { times: drive.times, share, quiet: quiet / usual, width: 1 - lowest / quiet, typical: usual, force, swing };
}
