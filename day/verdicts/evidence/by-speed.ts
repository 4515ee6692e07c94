import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../scene/scene.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';

/** Engine speeds are compared in steps of this [rad/s], about 190 rpm. @source our default */
export const SPEED_STEP = 20;
/** Tip-in and lift-off stay out [s]. @source our default */
const AFTER_START = 0.8;
const BEFORE_END = 0.2;
const OPENED = 0.2;

/** One quantity by engine speed: mean in each step of the speed, NaN where the pull has none; index 0 is speed 0. */
export type BySpeed = Float64Array;

/** A track by engine speed over the pull. */
export const trackBySpeed: (scene: PullScene, track: SceneTrack) => BySpeed = kept(measuredBySpeed);

function measuredBySpeed(scene: PullScene, track: SceneTrack): BySpeed {
  const { times, speeds } = loadAt(scene, Math.min(50, Math.max(20, track.rate)));
  return binned(speeds, onTimes(track, times));
}

/** The same from the moment on at which the throttle is open, where pressure builds up at once. */
export function trackFromTipIn(scene: PullScene, track: SceneTrack): BySpeed {
  const rate = Math.min(50, Math.max(20, track.rate));
  const times = gridOf(scene, rate, { from: scene.from + OPENED, to: scene.to - BEFORE_END });
  return binned(speedsAt(scene, times), onTimes(track, times));
}

/** Times of full load at a rate [Hz], and the engine speed there. */
const loadAt = kept((scene: PullScene, rate: number) => {
  const times = gridOf(scene, rate, { from: scene.from + AFTER_START, to: scene.to - BEFORE_END });
  return { times, speeds: speedsAt(scene, times) };
});

/** Power of the curve by engine speed. */
export const powerBySpeed: (scene: PullScene, line: 'rollPower' | 'tyrePower' | 'enginePower') => BySpeed = kept(
  ({ pull: { curve } }, line) =>
    binned(
      curve.engineSpeed,
      curve[line].map((value, i) => (curve.valid[i] === 1 ? value : Number.NaN)),
    ),
);

/** Manifold pressure by engine speed [Pa]; undefined when none is logged. */
export const pressureBySpeed: (scene: PullScene) => BySpeed | undefined = keptOf((scene) => {
  const track = sceneTrack(scene, 'manifold-pressure') ?? sceneTrack(scene, 'manifold-gauge-pressure');
  return track && trackBySpeed(scene, track);
});

/** The same in finer steps [rad/s]: for what begins at one engine speed near the end. @source our default */
export const FINE_STEP = 8;

/** Roll power of the curve in fine steps of engine speed. */
export const powerFinely: (scene: PullScene) => BySpeed = keptOf(({ pull: { curve } }) =>
  binned(
    curve.engineSpeed,
    curve.rollPower.map((value, i) => (curve.valid[i] === 1 ? value : Number.NaN)),
    FINE_STEP,
  ),
);

function binned(speeds: Float64Array, values: Float64Array, step: number = SPEED_STEP): BySpeed {
  const size = Math.round((200 * SPEED_STEP) / step);
  const sums = new Float64Array(size);
  const counts = new Float64Array(size);
  for (let i = 0; i < speeds.length; i++) {
    const k = Math.round(speeds[i] / step);
    if (!(k >= 0 && k < size) || !Number.isFinite(values[i])) continue;
    sums[k] += values[i];
    counts[k]++;
  }
  return sums.map((sum, k) => (counts[k] > 0 ? sum / counts[k] : Number.NaN));
}
