import type { Meaning } from '../../channels/index.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/** Engine speeds are compared in steps of this [rad/s], about 190 rpm. @source our default */
const STEP = 20;
/** Tip-in and lift-off stay out [s]. @source our default */
const AFTER_START = 0.8;
const BEFORE_END = 0.2;
/** References counted at most, the nearest first. @source our default */
const MOST = 6;

/** One quantity by engine speed: mean in each step of the speed, NaN where the pull has none; index 0 is speed 0. */
export type BySpeed = Float64Array;

/** A track by engine speed over the pull. */
export function trackBySpeed(scene: PullScene, track: SceneTrack): BySpeed {
  const times = gridOf(scene, Math.min(50, Math.max(20, track.rate)), {
    from: scene.from + AFTER_START,
    to: scene.to - BEFORE_END,
  });
  return binned(speedsAt(scene, times), onTimes(track, times));
}

/** Power of the curve by engine speed. */
export function powerBySpeed({ pull }: PullScene, line: 'rollPower' | 'tyrePower' | 'enginePower'): BySpeed {
  const { curve } = pull;
  return binned(
    curve.engineSpeed,
    curve[line].map((value, i) => (curve.valid[i] === 1 ? value : Number.NaN)),
  );
}

function binned(speeds: Float64Array, values: Float64Array): BySpeed {
  const size = 200;
  const sums = new Float64Array(size);
  const counts = new Float64Array(size);
  speeds.forEach((speed, i) => {
    const k = Math.round(speed / STEP);
    if (!(k >= 0 && k < size) || !Number.isFinite(values[i])) return;
    sums[k] += values[i];
    counts[k]++;
  });
  return sums.map((sum, k) => (counts[k] > 0 ? sum / counts[k] : Number.NaN));
}

/** A quantity here and in the references at equal engine speed and equal manifold pressure. All as long as each other. */
export interface Held {
  readonly speed: readonly number[];
  readonly here: readonly number[];
  readonly there: readonly number[];
  readonly references: number;
}

/** Pulls of the same gear that this one may be held against, the nearest first. */
export function comparable(scene: PullScene): readonly PullScene[] {
  const ratio = scene.pull.segment.ratio;
  return scene.references
    .filter(
      ({ pull }) =>
        ratio === undefined ||
        pull.segment.ratio === undefined ||
        Math.abs(Math.log(pull.segment.ratio / ratio)) < 0.03,
    )
    .slice(0, MOST * 3);
}

/** References whose manifold pressure is the same at most speeds; all of them where neither logs it. */
export function equalPressure(scene: PullScene, limits: Limits): readonly PullScene[] {
  const here = pressureBySpeed(scene);
  const tolerance = limits['same.pressure'].value;
  return comparable(scene)
    .filter((reference) => {
      const there = pressureBySpeed(reference);
      if (!here || !there) return !here && !there;
      const apart = middle(here.map((value, k) => Math.abs(value / there[k] - 1)));
      return apart < tolerance;
    })
    .slice(0, MOST);
}

/** Manifold pressure by engine speed [Pa]; undefined when none is logged. */
export function pressureBySpeed(scene: PullScene): BySpeed | undefined {
  const track = sceneTrack(scene, 'manifold-pressure') ?? sceneTrack(scene, 'manifold-gauge-pressure');
  return track && trackBySpeed(scene, track);
}

/** A channel against the references of equal pressure; undefined without the channel or without a reference that has it. */
export function heldAgainst(
  scene: PullScene,
  limits: Limits,
  { meaning, position }: { meaning: Meaning; position?: string | undefined },
): Held | undefined {
  const track = sceneTrack(scene, meaning, position);
  if (!track) return undefined;
  const others = equalPressure(scene, limits).flatMap((reference) => {
    const other = sceneTrack(reference, meaning, position);
    return other ? [trackBySpeed(reference, other)] : [];
  });
  return held(trackBySpeed(scene, track), others);
}

/** Values here against the middle of the others, where both are known. */
export function held(here: BySpeed, others: readonly BySpeed[]): Held | undefined {
  const rows: { speed: number; here: number; there: number }[] = [];
  here.forEach((value, k) => {
    const there = middle(others.map((other) => other[k]));
    if (Number.isFinite(value) && Number.isFinite(there)) rows.push({ speed: k * STEP, here: value, there });
  });
  if (others.length === 0 || rows.length < 4) return undefined;
  return {
    speed: rows.map(({ speed }) => speed),
    here: rows.map((row) => row.here),
    there: rows.map((row) => row.there),
    references: others.length,
  };
}

/** Middle difference here − there over the compared speeds; NaN when nothing is held. */
export function meanDifference(found: Held | undefined): number {
  return found ? middle(found.here.map((value, i) => value - found.there[i])) : Number.NaN;
}

/** Middle relative difference here/there − 1. */
export function meanRatio(found: Held | undefined): number {
  return found ? middle(found.here.map((value, i) => value / found.there[i] - 1)) : Number.NaN;
}

/** Value of a track at the start of full load: middle over the second before tip-in and the first 0.3 s. */
export function startLevel(scene: PullScene, meaning: Meaning): number {
  const track = sceneTrack(scene, meaning);
  return track ? levelAround(track, scene.from - 1, scene.from + 0.3) : Number.NaN;
}

/** Value of a track at the end of full load: middle over the last 0.7 s. */
export function endLevel(scene: PullScene, meaning: Meaning): number {
  const track = sceneTrack(scene, meaning);
  return track ? levelAround(track, scene.to - 0.7, scene.to) : Number.NaN;
}

function levelAround({ times, values }: SceneTrack, from: number, to: number): number {
  return middle(values.filter((_, i) => times[i] >= from && times[i] <= to));
}
