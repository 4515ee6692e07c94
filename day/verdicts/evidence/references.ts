import type { Meaning } from '../../channels/index.ts';
import type { Fault } from '../fault.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { besideState } from './beside.ts';
import { type BySpeed, pressureBySpeed, SPEED_STEP, trackBySpeed } from './by-speed.ts';

/** References counted at most, the nearest first. @source our default */
const MOST = 6;

/** A quantity here and in the references at equal engine speed and equal manifold pressure. All as long as each other. */
export interface Held {
  readonly speed: readonly number[];
  readonly here: readonly number[];
  readonly there: readonly number[];
  readonly references: number;
}

/** References whose manifold pressure is the same at most speeds; all of them where neither logs it. */
export function equalPressure(scene: PullScene, limits: Limits, spoiling: readonly Fault[]): readonly PullScene[] {
  return atEqualPressure(scene, limits, besideState(scene, spoiling));
}

/** Those at equal pressure, or where there are none, at a pressure that is a little higher: a fault may keep it from being reached. */
export function nearPressure(scene: PullScene, limits: Limits, spoiling: readonly Fault[]): readonly PullScene[] {
  const equal = equalPressure(scene, limits, spoiling);
  if (equal.length > 0) return equal;
  const here = pressureBySpeed(scene);
  return besideState(scene, spoiling)
    .filter((other) => {
      const there = pressureBySpeed(other);
      if (!here || !there) return false;
      const lower = middle(here.map((value, k) => 1 - value / there[k]));
      return lower > 0 && lower < limits['near.pressure'].value;
    })
    .slice(0, MOST);
}

/** Those of some pulls whose manifold pressure is the same at most speeds; all of them where neither logs it. */
export function atEqualPressure(scene: PullScene, limits: Limits, others: readonly PullScene[]): readonly PullScene[] {
  const here = pressureBySpeed(scene);
  const tolerance = limits['same.pressure'].value;
  return others
    .filter((reference) => {
      const there = pressureBySpeed(reference);
      if (!here || !there) return !here && !there;
      const apart = middle(here.map((value, k) => Math.abs(value / there[k] - 1)));
      return apart < tolerance;
    })
    .slice(0, MOST);
}

/** A channel against the references of equal pressure; undefined without the channel or without a reference that has it. */
export function heldAgainst(
  scene: PullScene,
  limits: Limits,
  { meaning, position, spoiling }: { meaning: Meaning; position?: string | undefined; spoiling: readonly Fault[] },
): Held | undefined {
  const track = sceneTrack(scene, meaning, position);
  if (!track) return undefined;
  const others = nearPressure(scene, limits, spoiling).flatMap((reference) => {
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
    if (Number.isFinite(value) && Number.isFinite(there)) rows.push({ speed: k * SPEED_STEP, here: value, there });
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

/** A channel that is renewed too seldom for the span is taken from the renewals nearest to it. */
function levelAround({ times, values, rate }: SceneTrack, from: number, to: number): number {
  const wider = Math.max(0, (SEVERAL / rate - (to - from)) / 2);
  return middle(values.filter((_, i) => times[i] >= from - wider && times[i] <= to + wider));
}

/** Renewals that a level is taken from at least, where they exist. @source our default */
const SEVERAL = 2.5;
