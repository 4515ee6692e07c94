import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../scene/scene.ts';
import { band, finite, middle, runningDeviation, type Series, slope, smooth } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/** The drive is seen on at most this grid [Hz]; 4–20 Hz in full from 40 Hz on; slower ones show bursts as scatter only, below the slowest nothing. @source our default: 20 Hz needs 40 values a second at least */
const FINEST = 100;
const IN_FULL = 40;
const SLOWEST = 8;
/** Tip-in and lift-off stay out: after the start and before the end [s]. @source our default: half the width of the 4 Hz kernel */
const AFTER_START = 0.4;
const BEFORE_END = 0.2;
/** While the driveline still swings from tip-in, and towards lift-off [s], this many times more is asked for. @source our default */
const SWINGS = { after: 1, before: 0.35, times: 1.6 } as const;

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

/** Rates of two channels of one log may differ in their last digits: engine speed is the faster one from so many times the rate of the rolls on. @source our default */
const FASTER = 1.05;

/** What the rolls' motion is taken from: their own speed when it is fast enough, else engine speed over the ratio. */
function motionOf(scene: PullScene): { track: SceneTrack; scale: number } | undefined {
  const roll = rollSpeed(scene);
  const ratio = scene.pull.segment.ratio;
  const engine = scene.engineSpeed;
  if (roll && roll.track.rate >= IN_FULL - 1) return roll;
  if (engine && ratio !== undefined && engine.rate > FASTER * (roll?.track.rate ?? 0))
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

/** What misfire is looked for in: force [N] that is renewed at `rate` [Hz]. */
interface Source {
  readonly series: Series;
  readonly rate: number;
}

/** The drive where it is renewed fast enough, else engine speed as the rolls' motion when that is faster; undefined when neither is known. */
function sourceOf(scene: PullScene): Source | undefined {
  const drive = driveForce(scene);
  const whole = sceneTrack(scene, 'tractive-force');
  const rate = drive
    ? Math.min(1 / (drive.times[1] - drive.times[0]), (whole ?? motionOf(scene)?.track)?.rate ?? 0)
    : 0;
  const mass = scene.facts.roller.equivalentMass?.value;
  const ratio = scene.pull.segment.ratio;
  const engine = scene.engineSpeed;
  if (rate >= IN_FULL - 1 || !engine || !mass || !ratio || engine.rate < IN_FULL || engine.rate < 1.5 * rate)
    return drive && { series: drive, rate };
  const times = gridOf(scene, Math.min(FINEST, engine.rate));
  const speed = onTimes(engine, times).map((value) => value / ratio);
  return { series: { times, values: slope({ times, values: speed }, 15).map((a) => mass * a) }, rate: engine.rate };
}

/**
 * How rough the drive is: deviation of the force between 4 and 20 Hz over its mean [1], within ±0.15 s, on `times` [s].
 * quiet: what this pull has in its quiet part. rough: above the thresholds. force: smoothed to 1 Hz [N].
 * blind: why ordinary misfire may hide here; undefined when it would show.
 */
export interface Roughness {
  readonly times: Float64Array;
  readonly share: Float64Array;
  readonly quiet: number;
  readonly rough: (index: number) => boolean;
  readonly force: Float64Array;
  readonly swing: Float64Array;
  readonly blind: string | undefined;
}

/** Noise alone makes the deviation wander: it stays below quiet by so many times the width of its quiet part. @source our default: from the tails of χ with 2 to 8 degrees of freedom */
const WIDTHS = 6;
/** Other pulls that say what is quiet. @source our default */
const REFERENCES = 5;

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
  const others = scene.references
    .flatMap((other) => {
      const beside = ownRoughness(other);
      return typeof beside === 'string' || Math.abs(beside.rate / own.rate - 1) > 0.2
        ? []
        : [{ ...beside, from: other.from }];
    })
    .slice(0, REFERENCES);
  const quiet = others.length > 0 ? Math.min(own.quiet, middle(others.map((other) => other.quiet))) : own.quiet;
  const times = Math.max(limits['roughness.times'].value, 1 + WIDTHS * own.width);
  const least = limits['roughness.share'].value;
  const asked = (i: number): number => {
    const [since, left] = [own.times[i] - scene.from, scene.to - own.times[i]];
    if (since > SWINGS.after && left > SWINGS.before) return times * quiet;
    const usual = since <= SWINGS.after ? middle(others.map((other) => shareAt(other, other.from + since))) : 0;
    return Math.max(SWINGS.times * times * quiet, Number.isFinite(usual) ? SWINGS.times * usual : 0);
  };
  return {
    ...own,
    quiet,
    rough: (i) => own.share[i] > least && own.share[i] * own.force[i] > asked(i) * own.typical,
    blind: blindness(own, times * quiet, limits),
  };
}

function shareAt({ times, share }: Pick<Roughness, 'times' | 'share'>, time: number): number {
  return share[Math.round((time - times[0]) / (times[1] - times[0]))] ?? Number.NaN;
}

function blindness({ rate }: OwnRoughness, asked: number, limits: Limits): string | undefined {
  if (rate < IN_FULL - 1)
    return `the drive is renewed ${rate.toFixed(0)} times a second: that it looks even does not show that nothing misfires (from ${IN_FULL})`;
  return asked > limits['roughness.blind'].value
    ? 'the drive is too noisy here: ordinary bursts of misfire would not show'
    : undefined;
}

/** quiet: share of the typical force; width: how far the 5 % quantile is below quiet, as a share of it [1]; typical: middle force [N]; rate [Hz]. */
interface OwnRoughness extends Omit<Roughness, 'rough' | 'blind'> {
  readonly width: number;
  readonly typical: number;
  readonly rate: number;
}

const ownRoughness: (scene: PullScene) => OwnRoughness | string = keptOf(measuredRoughness);

function measuredRoughness(scene: PullScene): OwnRoughness | string {
  const [source, drive] = [sourceOf(scene), driveForce(scene)];
  if (!source || !drive) return 'neither a whole force nor roll speed with an equivalent mass';
  const { rate, series } = source;
  if (rate < SLOWEST) {
    return `the drive is renewed ${rate.toFixed(0)} times a second, too slowly to see it misfire (from ${SLOWEST})`;
  }
  const level = smooth(drive, 1);
  const step = drive.times[1] - drive.times[0];
  const { times } = series;
  const force = times.map((t) => level[Math.round((t - drive.times[0]) / step)] ?? Number.NaN);
  const full = rate >= IN_FULL - 1;
  const swing = full ? band(series, 4, Math.min(20, rate / 5)) : scatter(series, rate / 10);
  const deviation = runningDeviation({ times, values: swing }, full ? 0.15 : Math.max(0.15, 3 / rate));
  const top = Math.max(...finite(force), 0);
  const share = deviation.map((value, i) =>
    times[i] < scene.from + AFTER_START || times[i] > scene.to - BEFORE_END || !(force[i] > 0.1 * top)
      ? Number.NaN
      : value / force[i],
  );
  const shifted = share.map((value, i) => (isShifting(scene, times[i]) ? Number.NaN : value));
  const sorted = finite(shifted.map((value, i) => value * force[i])).sort((a, b) => a - b);
  if (sorted.length < Math.min(1 / (times[1] - times[0]), 20)) return 'too little of the pull without a gap';
  const usual = middle(force);
  const [lowest, quiet] = [sorted[Math.floor(0.05 * sorted.length)], sorted[Math.floor(0.3 * sorted.length)]];
  return { times, share: shifted, quiet: quiet / usual, width: 1 - lowest / quiet, typical: usual, force, swing, rate };
}

/** Where a pull goes through several gears, its ratio moves by more than `moves` [1] within ±`near` s of a shift. @source our default */
const SHIFT = { moves: 0.02, near: 0.5 } as const;

/** True while gears are changed or the clutch takes up: the drive jumps then and nothing misfires. Always false in one gear. */
function isShifting(scene: PullScene, time: number): boolean {
  if (scene.pull.segment.ratio !== undefined) return false;
  return shiftsOf(scene).some((shift) => Math.abs(shift - time) < SHIFT.near);
}

/** Times at which engine speed over roll speed moves as no tyre makes it [s]. */
const shiftsOf: (scene: PullScene) => readonly number[] = keptOf((scene) => {
  const roll = rollSpeed(scene);
  if (!roll || !scene.engineSpeed) return [];
  const times = gridOf(scene, Math.min(20, roll.track.rate, scene.engineSpeed.rate));
  const surface = onTimes(roll.track, times);
  const ratio = speedsAt(scene, times).map((speed, i) => Math.log(speed / (surface[i] * roll.scale)));
  const reach = Math.max(1, Math.round(0.25 / (times[1] - times[0])));
  return [...times].filter((_, i) => {
    const moved = ratio[Math.min(ratio.length - 1, i + reach)] - ratio[Math.max(0, i - reach)];
    return !(Math.abs(moved) < SHIFT.moves);
  });
});

/** What is left above a −3 dB frequency [Hz], as far as the renewals show it. */
function scatter(series: Series, above: number): Float64Array {
  const lower = smooth(series, above);
  return series.values.map((value, i) => value - lower[i]);
}
