import { indexAtOrAfter } from '../../../core/numerics/index.ts';
import { kept, keptOf } from '../scene/memory.ts';
import { gridOf, type PullScene, speedsAt } from '../scene/scene.ts';
import { finite, middle, runningQuantile, type Series, slope, smooth } from '../scene/series.ts';
import { onTimes } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { besideState } from './beside.ts';
import { driveForce, rollSpeed } from './drive.ts';
import { slipSeries } from './slip.ts';
import { drivenWheel, wheelRatios } from './wheel.ts';

/** Earlier pulls compared with, at most; roll speeds are compared within this [1]. @source our default */
const MOST = 4;
const SAME_SPEED = 0.012;
/** A lag between the clocks shows as slip in proportion to growth of speed; it is taken from the lower part of the pull. @source our default */
const LOWER = 0.15;
/** Clocks that were laid on one another by their speeds are not further apart [s], or than so many of the uncertainties that were found; lag is read where speed rises at least this much of its usual [1]. @source our default */
const LONGEST_LAG = 0.06;
const UNSURE = 3;
const RISING = 0.5;
/** Clocks that run apart by more than this were laid on one another wrongly: such a pull shows no slip [1]. @source our default: ten times what clocks of loggers are apart, common practice, no source: 500 ppm */
const RUNS_APART = 0.005;
/** Slip from here on takes power that can be told [1]. @source our default */
const TOLD = 0.008;
/** Faults that make an earlier pull's slip no measure. @source common practice, no source */
const SLIPPED = ['wheel-slip', 'clutch-slip', 'converter-slip', 'lost-sync'] as const;

/**
 * How far something turns ahead of the rolls beyond what it did in earlier pulls at equal roll speed [1], on `times` [s]; tyre creep, growth of
 * the tyre and the converter's usual slip are in both. noise: three standard deviations of its own noise [1].
 */
export interface Ahead {
  readonly times: Float64Array;
  readonly beyond: Float64Array;
  readonly noise: number;
}

interface Turning {
  readonly times: Float64Array;
  readonly surface: Float64Array;
  readonly ahead: Float64Array;
  /** What drives [N]; NaN where it is not known. */
  readonly drive: Float64Array;
}

/** Force on the rolls on some times [N]; NaN where it is not known. */
function driveOn(scene: PullScene, times: Float64Array): Float64Array {
  const drive = smoothDrive(scene);
  if (!drive) return new Float64Array(times.length).fill(Number.NaN);
  const step = drive.times[1] - drive.times[0];
  return times.map((t) => drive.values[Math.round((t - drive.times[0]) / step)] ?? Number.NaN);
}

const smoothDrive: (scene: PullScene) => Series | undefined = keptOf((scene) => {
  const drive = driveForce(scene);
  return drive && { times: drive.times, values: smooth(drive, 2) };
});

/** Engine against the rolls; undefined without earlier pulls of the same gear. */
export const engineAhead: (scene: PullScene, limits: Limits) => Ahead | undefined = kept((scene, limits) => {
  const of = (each: PullScene): Turning | undefined => {
    const seen = slipSeries(each, limits);
    if (typeof seen === 'string') return undefined;
    return { times: seen.times, surface: seen.surface, ahead: seen.slip, drive: driveOn(each, seen.times) };
  };
  const here = of(scene);
  return here && beyondOthers(here, earlier(scene, of), longestLag(scene));
});

/** Driven wheels against the rolls; undefined without a wheel speed here and in earlier pulls. */
export const wheelAhead: (scene: PullScene) => Ahead | undefined = keptOf((scene) => {
  const here = wheelTurning(scene);
  return here && beyondOthers(here, earlier(scene, wheelTurning), longestLag(scene));
});

/** ln of engine speed over roll speed, on `times` [s] from tip-in on; empty without a roll speed. */
export const ratioOf: (scene: PullScene) => {
  readonly times: Float64Array;
  readonly surface: Float64Array;
  readonly ratio: Float64Array;
} = keptOf((scene) => {
  const roll = rollSpeed(scene);
  if (!roll) return { times: new Float64Array(0), surface: new Float64Array(0), ratio: new Float64Array(0) };
  const times = gridOf(scene, Math.min(50, roll.track.rate), { from: scene.from + 0.3, to: scene.to - 0.1 });
  const surface = onTimes(roll.track, times).map((value) => value * roll.scale);
  const values = speedsAt(scene, times).map((w, i) => Math.log(w / surface[i]));
  return { times, surface, ratio: runningQuantile({ times, values }, 0.08, 0.5) };
});

/** Engine speed over roll speed as it is, whatever slips by design between them, against earlier pulls; undefined without them. */
export const ratioAhead: (scene: PullScene) => Ahead | undefined = keptOf((scene) => {
  const of = (each: PullScene): Turning => {
    const { times, surface, ratio } = ratioOf(each);
    return { times, surface, ahead: ratio, drive: driveOn(each, times) };
  };
  return beyondOthers(of(scene), earlier(scene, of), longestLag(scene));
});

/** How far the engine is ahead of the rolls beyond earlier pulls from an engine speed on [rad/s]: power that slip takes [1]; 0 where it is too little to tell. */
export function slipAbove(scene: PullScene, speed: number): number {
  const ahead = ratioAhead(scene);
  if (!ahead) return 0;
  const omega = speedsAt(scene, ahead.times);
  const share = middle(ahead.beyond.filter((_, i) => omega[i] >= speed));
  return share > TOLD ? share : 0;
}

/** What {@link slipAbove} says at each of some engine speeds [rad/s] within half a step of it: share of the power that slip takes [1]; 0 where it is not known. */
export function slipAt(scene: PullScene, speeds: readonly number[], step: number): readonly number[] {
  const ahead = ratioAhead(scene);
  if (!ahead) return speeds.map(() => 0);
  const omega = speedsAt(scene, ahead.times);
  const places = new Map<number, number[]>();
  omega.forEach((value, i) => {
    const place = Math.round(value / step);
    const there = places.get(place);
    if (there) there.push(ahead.beyond[i]);
    else places.set(place, [ahead.beyond[i]]);
  });
  return speeds.map((speed) => {
    const share = middle(places.get(Math.round(speed / step)) ?? []);
    return share > TOLD ? share : 0;
  });
}

const wheelTurning: (scene: PullScene) => Turning | undefined = keptOf((scene) => {
  const [ratios, roll] = [wheelRatios(scene), rollSpeed(scene)];
  if (!ratios?.wheelOverRoll || !roll || !drivenWheel(scene)) return undefined;
  const surface = onTimes(roll.track, ratios.times).map((value) => value * roll.scale);
  return { times: ratios.times, surface, ahead: ratios.wheelOverRoll, drive: driveOn(scene, ratios.times) };
});

function earlier(scene: PullScene, of: (each: PullScene) => Turning | undefined): readonly Turning[] {
  return besideState(scene, SLIPPED)
    .filter(isOnOneClock)
    .slice(0, MOST)
    .flatMap((other) => of(other) ?? []);
}

function isOnOneClock({ alignment }: PullScene): boolean {
  return alignment.pieces.every(({ rate }) => Math.abs(rate) < RUNS_APART);
}

/** How far the clocks of a pull, or of those that it is held against, may be apart [s]. */
function longestLag(scene: PullScene): number {
  const pulls = [scene, ...besideState(scene, SLIPPED).slice(0, MOST)];
  const spreads = pulls.flatMap(({ alignment }) => alignment.pieces.map(({ offsetUncertainty }) => offsetUncertainty));
  return Math.max(LONGEST_LAG, ...spreads.map((spread) => UNSURE * spread));
}

/** A tyre creeps by its force: a lag is read where that is within this share of the usual one [1], as long as so much of the pull is left [1]. @source our default */
const SAME_FORCE = 0.15;
const LEFT = 0.1;

function beyondOthers(
  { times, surface, ahead, drive }: Turning,
  others: readonly Turning[],
  longest: number,
): Ahead | undefined {
  if (others.length === 0 || times.length < 20) return undefined;
  const [usualAhead, usualDrive] = [usualOf(others, 'ahead'), usualOf(others, 'drive')];
  const apart = ahead.map((value, i) => value - usualAhead(surface[i]));
  const growth = slope({ times, values: smooth({ times, values: surface.map(Math.log) }, 2) }, 1);
  const rising = RISING * middle(growth);
  const lags = apart.map((value, i) => (growth[i] > rising ? value / growth[i] : Number.NaN));
  const all = finite(lags);
  if (!(rising > 0) || all.length < 0.4 * times.length) return undefined;
  const alike = finite(
    lags.map((value, i) => (Number.isFinite(value) && isNear(drive[i], usualDrive(surface[i])) ? value : Number.NaN)),
  );
  const perGrowth = alike.length > LEFT * times.length ? alike : all;
  const lower = perGrowth.sort((a, b) => a - b)[Math.floor(LOWER * perGrowth.length)];
  const lag = Math.max(-longest, Math.min(longest, lower));
  const beyond = runningQuantile({ times, values: apart.map((value, i) => value - lag * growth[i]) }, 0.05, 0.5);
  const steps = finite(beyond.map((value, i) => (i > 0 ? Math.abs(value - beyond[i - 1]) : Number.NaN)));
  return { times, beyond, noise: 3 * 1.48 * middle(steps) };
}

function isNear(force: number, usual: number): boolean {
  return Math.abs(force / usual - 1) < SAME_FORCE;
}

/** What earlier pulls showed near a roll speed, in the middle. */
function usualOf(others: readonly Turning[], of: 'ahead' | 'drive'): (speed: number) => number {
  const each = others.map((other) => bySurface(other, of));
  return (speed) => middle(each.map((at) => at(speed)));
}

/** What an earlier pull showed near a roll speed. */
function bySurface(turning: Turning, of: 'ahead' | 'drive'): (speed: number) => number {
  const { surface } = turning;
  const shown = turning[of];
  const rows = [...surface.keys()]
    .filter((i) => Number.isFinite(shown[i]) && surface[i] > 0)
    .sort((a, b) => surface[a] - surface[b]);
  const speeds = Float64Array.from(rows, (i) => surface[i]);
  const values = Float64Array.from(rows, (i) => shown[i]);
  const placeOf = (speed: number): number => indexAtOrAfter(speeds, { from: 0, to: speeds.length }, speed);
  // Neighbouring moments often ask for the same rows.
  let [from, to, known] = [0, 0, Number.NaN];
  return (speed) => {
    const [first, beyond] = [placeOf(speed * (1 - SAME_SPEED)), placeOf(speed * (1 + SAME_SPEED))];
    if (first === from && beyond === to) return known;
    [from, to, known] = [first, beyond, middle(values.subarray(first, beyond))];
    return known;
  };
}
