import type { Fault } from '../fault.ts';
import { keptOf } from '../scene/memory.ts';
import { gridOf, levelBetween, type PullScene, sceneTrack, speedsAt, tracksAt } from '../scene/scene.ts';
import { largest, middle, runningQuantile } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { besideState } from './beside.ts';
import { pressureBySpeed, SPEED_STEP, trackBySpeed } from './by-speed.ts';

/** Lambda needs this long after tip-in until it speaks of full load [s]. @source our default: twice the usual delay and lag at low speed */
export const SETTLES = 1;

/** Every lambda channel, on the times its gas belongs to. */
export function lambdas(scene: PullScene): readonly SceneTrack[] {
  return tracksAt(scene, 'lambda');
}

/**
 * One lambda channel against what was asked for [1]: target where logged, else what earlier pulls had at the same engine speed, else its own middle in the pull.
 * earlier: how many pulls that is; 0 with a target, and where nothing is known.
 */
export interface LambdaError {
  readonly track: SceneTrack;
  readonly times: Float64Array;
  readonly value: Float64Array;
  readonly error: Float64Array;
  readonly targeted: boolean;
  readonly earlier: number;
}

/** Lambda less what it should be, for each channel. The first second of full load is left out. */
export const lambdaErrors: (scene: PullScene) => readonly LambdaError[] = keptOf(measuredErrors);

function measuredErrors(scene: PullScene): readonly LambdaError[] {
  const asked = sceneTrack(scene, 'lambda-target');
  return lambdas(scene).map((track) => {
    const times = gridOf(scene, Math.min(50, track.rate), { from: scene.from + SETTLES, to: scene.to - 0.1 });
    const value = onTimes(track, times);
    const usual = asked ? undefined : usualLambda(scene, track, times);
    const target = asked ? onTimes(asked, times) : (usual?.values ?? value.map(() => middle(value)));
    return {
      ...{ track, times, value, error: value.map((lambda, i) => lambda - target[i]) },
      ...{ targeted: asked !== undefined, earlier: usual?.pulls ?? 0 },
    };
  });
}

/** Earlier pulls that say what lambda usually is; their manifold pressure is the same within this [1]. @source our default: the map asks for lambda by pressure */
const EARLIER = 4;
const SAME_PRESSURE = 0.06;
/** Faults that leave a pull's lambda no measure for another one's. @source common practice, no source */
const SPOILS_LAMBDA: readonly Fault[] = [
  ...(['lean-mixture', 'rich-mixture', 'fuel-pressure-drop', 'injector-saturation'] as const),
  ...(['ignition-breakup', 'spark-energy', 'lost-sync', 'rev-or-torque-cut'] as const),
  ...(['stuck-channel', 'saturated-channel', 'wrong-scale', 'swapped-channels'] as const),
];

/** Lambda of the nearest earlier pulls at the engine speeds of these times; undefined without one. */
function usualLambda(
  scene: PullScene,
  track: SceneTrack,
  times: Float64Array,
): { readonly values: Float64Array; readonly pulls: number } | undefined {
  const others = besideState(scene, SPOILS_LAMBDA)
    .filter((other) => hasSamePressure(scene, other))
    .slice(0, EARLIER)
    .flatMap((other) => {
      const same = lambdas(other).find(({ position }) => position === track.position);
      return same ? [trackBySpeed(other, same)] : [];
    });
  if (others.length === 0) return undefined;
  const usual = others[0].map((_, k) => middle(others.map((each) => each[k])));
  const values = speedsAt(scene, times).map((speed) => {
    const [below, share] = [Math.floor(speed / SPEED_STEP), (speed / SPEED_STEP) % 1];
    return share === 0 ? usual[below] : usual[below] * (1 - share) + usual[below + 1] * share;
  });
  return values.some(Number.isFinite) ? { values, pulls: others.length } : undefined;
}

function hasSamePressure(scene: PullScene, other: PullScene): boolean {
  const [here, there] = [pressureBySpeed(scene), pressureBySpeed(other)];
  if (!here || !there) return !here && !there;
  return middle(here.map((value, k) => Math.abs(value / there[k] - 1))) < SAME_PRESSURE;
}

/** True when lambda had already gone lean and stayed there before a moment: the mixture came first. */
export function leanBefore(scene: PullScene, moment: number, limits: Limits): boolean {
  return lambdaErrors(scene).some(({ times, error, targeted, earlier }) => {
    if (!targeted && earlier === 0) return false;
    const inside = error.filter((_, i) => times[i] >= moment - 0.8 && times[i] <= moment - 0.25);
    return inside.length >= 3 && middle(inside) > limits['lean.departure'].value;
  });
}

/** Lambda around a swing that says where it swings from [s]. @source our default */
const AROUND = 1.5;

/**
 * How far lambda swings lean near the windows against what it is around them, beyond its noise [1]; undefined without a lambda that is fast enough and
 * speaks of full load there.
 */
export function leanSpike(
  scene: PullScene,
  windows: readonly { readonly from: number; readonly to: number }[],
): number | undefined {
  const swings = lambdaErrors(scene)
    .filter(({ track }) => track.rate >= 8)
    .flatMap(({ track, times, error }) => {
      const values = runningQuantile({ times, values: error }, 0.04, 0.5);
      const isNear = (i: number): boolean =>
        windows.some(({ from, to }) => times[i] >= from - 0.15 && times[i] <= to + 0.25);
      const quiet = values.map((value, i) => (isNear(i) ? Number.NaN : value));
      return windows.map(({ from, to }) => {
        const near = values.filter((_, i) => times[i] >= from - 0.15 && times[i] <= to + 0.25);
        const around = middle(quiet.filter((_, i) => times[i] >= from - AROUND && times[i] <= to + AROUND));
        const level = Number.isFinite(around) ? around : middle(values);
        return largest(near) - level - 3 * track.noise;
      });
    })
    .filter(Number.isFinite);
  return swings.length > 0 ? Math.max(...swings) : undefined;
}

/** A swing is gone again within this after it, by this share [s, 1]. @source our default: a second at most until the gas of a few cycles has passed the sensor */
const GONE = { within: 1.2, by: 0.5 } as const;

/** True when lambda swings lean in one window by more than a limit and comes back: a few firings that did not burn, no leaner mixture. */
export function swingsLean(
  scene: PullScene,
  window: { readonly from: number; readonly to: number },
  limit: number,
): boolean {
  const spike = leanSpike(scene, [window]) ?? 0;
  if (!(spike > limit)) return false;
  return lambdas(scene).some((track) => {
    const before = levelBetween(track, window.from - 1.2, window.from - 0.1);
    const after = levelBetween(track, window.to + 0.3, window.to + GONE.within);
    return after - before < GONE.by * spike || !Number.isFinite(after - before);
  });
}
