import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { finite, middle } from '../scene/series.ts';
import { besideState, changedSince } from './beside.ts';
import { driveForce } from './drive.ts';
import { overrunOf } from './overrun.ts';

/** Pulls that the later ones are held against: the first comparable ones of the block, as what grows over the day is in the later ones already. @source our default */
const FIRST = 2;
/** Warmer oil turns more easily: a pull that starts this much colder than the first ones is no measure [K]. @source our default */
const COLDER = 6;
/** The throttle let the engine breathe otherwise when the intake was further apart [Pa]. @source our default: 5 kPa are 2 % of an engine's drag */
const BREATHES = 6e3;
/** Ratios of two overruns are alike within this [1]. @source our default */
const SAME_RATIO = 0.012;
/** The drag of engine and driveline with the throttle shut repeats within this share of itself. @source our default: oil a few kelvin apart */
const REPEATS = 0.012;

/**
 * Drag after lift-off against the first pulls of the block at equal roll speed.
 * more [N]; share: of the drive at full load at the same speeds [1]; ofDrag: of the drag itself [1]; deviations: of its own spread; pulls: that it is held against.
 */
export interface OverrunRise {
  readonly more: number;
  readonly share: number;
  readonly ofDrag: number;
  readonly deviations: number;
  readonly pulls: number;
}

/** How the drag after lift-off rose since the first pulls; a sentence when it cannot be told. */
export function overrunRise(scene: PullScene): OverrunRise | string {
  const here = overrunOf(scene);
  if (!here) return 'the engine was not dragged along in gear after lift-off';
  if (changedSince(scene, [])) return 'no earlier pull since parts were changed';
  const others = [...besideState(scene, [])].reverse();
  const before = others
    .filter((other) => {
      const there = overrunOf(other);
      const alike = there && Math.abs(there.ratio / here.ratio - 1) < SAME_RATIO;
      return alike && !(Math.abs(there.pressure - here.pressure) > BREATHES) && !isColder(scene, other);
    })
    .slice(0, FIRST);
  if (before.length === 0) return 'no earlier pull with an overrun at the same temperatures';
  const drive = driveAt(scene);
  const rises = before.flatMap((other) => {
    const there = overrunOf(other);
    const [low, high] = [Math.max(here.low, there?.low ?? 0), Math.min(here.high, there?.high ?? 0)];
    if (!there || !(high - low > 0.25 * (here.high - here.low))) return [];
    return [0.4, 0.6, 0.8, 1].map((place) => {
      const speed = low + place * (high - low);
      const [a, b] = [here.at(speed), there.at(speed)];
      return {
        more: a.force - b.force,
        share: (a.force - b.force) / drive(speed),
        ofDrag: (a.force - b.force) / b.force,
        // Several earlier pulls together are known better than one of them.
        spread: Math.hypot(a.deviation, b.deviation / Math.sqrt(before.length), REPEATS * b.force),
      };
    });
  });
  if (rises.length === 0) return 'no earlier overrun through the same speeds';
  const of = (pick: (each: (typeof rises)[number]) => number): number => middle(rises.map(pick));
  const more = of((each) => each.more);
  return {
    more,
    share: of((each) => each.share),
    ofDrag: of((each) => each.ofDrag),
    deviations: more / of((each) => each.spread),
    pulls: before.length,
  };
}

/** Drive at full load over roll speed [N]: the curve's power over speed, the nearest where it ends. */
function driveAt(scene: PullScene): (speed: number) => number {
  const { rollPower, rollSpeed: speeds, valid } = scene.pull.curve;
  const rows = [...speeds.keys()]
    .filter((i) => valid[i] === 1 && rollPower[i] > 0 && speeds[i] > 0)
    .map((i) => ({ speed: speeds[i], force: rollPower[i] / speeds[i] }));
  const whole = driveForce(scene);
  const usual = whole ? middle(finite(whole.values)) : Number.NaN;
  return (speed) =>
    rows.reduce((best, row) => (Math.abs(row.speed - speed) < Math.abs(best.speed - speed) ? row : best), {
      speed: Number.POSITIVE_INFINITY,
      force: usual,
    }).force;
}

/** True when oil or water were colder before this pull than before the other. */
function isColder(scene: PullScene, other: PullScene): boolean {
  const meanings = ['axle-temperature', 'gearbox-temperature', 'oil-temperature', 'coolant-temperature'] as const;
  return meanings.some((meaning) => startOf(scene, meaning) - startOf(other, meaning) < -COLDER);
}

function startOf(
  scene: PullScene,
  meaning: 'axle-temperature' | 'gearbox-temperature' | 'oil-temperature' | 'coolant-temperature',
): number {
  const track = sceneTrack(scene, meaning);
  return track ? middle(track.values.filter((_, i) => track.times[i] < scene.to)) : Number.NaN;
}
