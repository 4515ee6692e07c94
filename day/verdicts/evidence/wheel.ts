import { gridOf, type PullScene, speedsAt } from '../scene/scene.ts';
import { middle, runningQuantile } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import { rollSpeed } from './drive.ts';

/** Driven wheels that turn more than this faster than the roll against the rest of the pull are no longer with it [1]. @source our default */
const APART = 0.01;

/** A wheel speed that belongs to the driven wheels: the only one there is, or one whose position does not say otherwise. */
export function drivenWheel(scene: PullScene): SceneTrack | undefined {
  const wheels = scene.tracks.filter(({ meaning }) => meaning === 'wheel-speed');
  return (
    wheels.find(({ position }) => /(^|[^n-])driven/i.test(position ?? '')) ??
    wheels.find((wheel) => turns(scene, wheel))
  );
}

/** A wheel that stands still on the roller is not driven. */
function turns(scene: PullScene, wheel: SceneTrack): boolean {
  const values = wheel.values.filter((_, i) => wheel.times[i] >= scene.from && wheel.times[i] <= scene.to);
  return middle(values) > 3;
}

/** ln of one speed over another on equal times, free of its middle over the pull outside the windows. */
export interface Apart {
  readonly times: Float64Array;
  readonly wheelOverRoll: Float64Array | undefined;
  readonly engineOverWheel: Float64Array;
}

/** How engine, driven wheel and roll turn against one another; undefined without a wheel speed. */
export function wheelRatios(scene: PullScene): Apart | undefined {
  const wheel = drivenWheel(scene);
  if (!wheel || !scene.engineSpeed) return undefined;
  const roll = rollSpeed(scene);
  const times = gridOf(scene, Math.min(25, wheel.rate), { from: scene.from + 0.3, to: scene.to });
  const turning = onTimes(wheel, times);
  const omega = speedsAt(scene, times);
  const rolling = roll && onTimes(roll.track, times).map((value) => value * roll.scale);
  const smooth = (values: Float64Array): Float64Array => runningQuantile({ times, values }, 0.15, 0.5);
  return {
    times,
    wheelOverRoll: rolling && smooth(turning.map((value, i) => Math.log(value / rolling[i]))),
    engineOverWheel: smooth(omega.map((value, i) => Math.log(value / turning[i]))),
  };
}

/** True when the driven wheels stay with the roll in the windows, false when they leave it; undefined when no wheel speed tells. */
export function wheelKeepsToRoll(
  scene: PullScene,
  windows: readonly { readonly from: number; readonly to: number }[],
): boolean | undefined {
  const ratios = wheelRatios(scene);
  if (!ratios?.wheelOverRoll) return undefined;
  const { times, wheelOverRoll } = ratios;
  const inside = (i: number): boolean => windows.some(({ from, to }) => times[i] >= from && times[i] <= to);
  const during = middle(wheelOverRoll.filter((_, i) => inside(i)));
  const before = middle(wheelOverRoll.filter((_, i) => !inside(i)));
  if (!Number.isFinite(during - before)) return undefined;
  return during - before < APART;
}
