import { keptOf } from '../scene/memory.ts';
import { gridOf, levelBetween, type PullScene, sceneTrack, tracksAt } from '../scene/scene.ts';
import { largest, middle, runningQuantile } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/** Lambda needs this long after tip-in until it speaks of full load [s]. @source our default: twice the usual delay and lag at low speed */
export const SETTLES = 1;

/** Every lambda channel, on the times its gas belongs to. */
export function lambdas(scene: PullScene): readonly SceneTrack[] {
  return tracksAt(scene, 'lambda');
}

/** One lambda channel against what was asked for [1]: target where logged, else its own middle in the pull. */
export interface LambdaError {
  readonly track: SceneTrack;
  readonly times: Float64Array;
  readonly value: Float64Array;
  readonly error: Float64Array;
  readonly targeted: boolean;
}

/** Lambda less its target, for each channel. The first second of full load is left out. */
export const lambdaErrors: (scene: PullScene) => readonly LambdaError[] = keptOf(measuredErrors);

function measuredErrors(scene: PullScene): readonly LambdaError[] {
  const asked = sceneTrack(scene, 'lambda-target');
  return lambdas(scene).map((track) => {
    const times = gridOf(scene, Math.min(50, track.rate), { from: scene.from + SETTLES, to: scene.to - 0.1 });
    const value = onTimes(track, times);
    const target = asked ? onTimes(asked, times) : value.map(() => middle(value));
    return { track, times, value, error: value.map((lambda, i) => lambda - target[i]), targeted: asked !== undefined };
  });
}

/** True when lambda had already gone lean and stayed there before a moment: the mixture came first. */
export function leanBefore(scene: PullScene, moment: number, limits: Limits): boolean {
  return lambdaErrors(scene).some(({ times, error, targeted }) => {
    if (!targeted) return false;
    const inside = error.filter((_, i) => times[i] >= moment - 0.8 && times[i] <= moment - 0.25);
    return inside.length >= 3 && middle(inside) > limits['lean.departure'].value;
  });
}

/** How far lambda swings lean near the windows against the second around them, beyond its noise [1]; undefined without lambda. */
export function leanSpike(
  scene: PullScene,
  windows: readonly { readonly from: number; readonly to: number }[],
): number | undefined {
  const tracks = lambdas(scene).filter(({ rate }) => rate >= 8);
  if (tracks.length === 0) return undefined;
  return Math.max(
    ...tracks.map((track) => {
      const times = gridOf(scene, Math.min(50, track.rate), { from: scene.from + SETTLES, to: scene.to });
      const values = runningQuantile({ times, values: onTimes(track, times) }, 0.04, 0.5);
      const quiet = levelBetween(track, windows[0].from - 1.5, windows[0].from - 0.2);
      const level = Number.isFinite(quiet) ? quiet : middle(values);
      const near = values.filter((_, i) =>
        windows.some(({ from, to }) => times[i] >= from - 0.15 && times[i] <= to + 0.25),
      );
      return largest(near) - level - 3 * track.noise;
    }),
  );
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
