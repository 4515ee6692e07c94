import type { Meaning } from '../../channels/index.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { middle } from '../scene/series.ts';
import type { SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { besidePower, TAKES_POWER } from './beside.ts';
import { type BySpeed, powerBySpeed, pressureBySpeed, SPEED_STEP } from './by-speed.ts';
import { longestHold } from './holds.ts';
import { atEqualPressure, heldAgainst, meanDifference, meanRatio } from './references.ts';

/** The rule of thumb bridges at most this share of power; further apart two pulls cannot be compared by it. Pulls compared with at most. @source our default */
const BRIDGED = 0.12;
const MOST = 6;

/** Roll power against the references, pull by pull, with pressure and charge temperature allowed for. As long as `speed`. */
export interface PowerGap {
  readonly speed: readonly number[];
  /** Power here over what the references would make at this pressure and charge temperature, less 1 [1]. */
  readonly gap: readonly number[];
  readonly whole: number;
  readonly low: number;
  readonly high: number;
  readonly references: number;
  /** Largest share of power that was explained by pressure and temperature [1]: how far the rule of thumb had to reach. */
  readonly explained: number;
}

/** The gap to references of equal manifold pressure (`equal`) or of any (`any`); undefined without references or power. */
export function powerGap(scene: PullScene, limits: Limits, which: 'equal' | 'any'): PowerGap | undefined {
  const beside = besidePower(scene);
  const others = (which === 'equal' ? atEqualPressure(scene, limits, beside) : beside)
    .filter((other) => !(reachOf(scene, other, limits) > BRIDGED))
    .slice(0, MOST);
  return gapTo(scene, others, limits);
}

/** The gap to the given pulls; undefined without power at common engine speeds. */
export function gapTo(scene: PullScene, others: readonly PullScene[], limits: Limits): PowerGap | undefined {
  const here = powerBySpeed(scene, 'rollPower');
  const expected = others.map((other) => expectedPower(scene, other, limits));
  const rows: { speed: number; gap: number }[] = [];
  here.forEach((power, k) => {
    const there = middle(expected.map((each) => each[k]));
    if (power > 0 && there > 0) rows.push({ speed: k * SPEED_STEP, gap: power / there - 1 });
  });
  if (rows.length < FEWEST) return undefined;
  const part = Math.floor(rows.length / 3);
  const of = (list: readonly { gap: number }[]): number => middle(list.map(({ gap }) => gap));
  const explained = middle(others.map((other) => reachOf(scene, other, limits)));
  return {
    speed: rows.map(({ speed }) => speed),
    gap: rows.map(({ gap }) => gap),
    whole: of(rows),
    low: of(rows.slice(0, part)),
    high: of(rows.slice(-part)),
    references: others.length,
    explained: Number.isFinite(explained) ? explained : 0,
  };
}

/** Deficit of each pull against the first ones, in order, this one last [1]; and their one-sided cumulative sum in standard deviations. */
export interface PowerTrend {
  readonly deficits: readonly number[];
  readonly cumulative: number;
}

/**
 * How power at equal manifold pressure went since the first comparable pulls of the block; undefined with fewer than four pulls.
 *
 * @source one-sided cumulative sum with a slack of half a standard deviation: NIST/SEMATECH e-Handbook 6.3.2.3
 */
export function powerTrend(scene: PullScene, limits: Limits): PowerTrend | undefined {
  const inOrder = [...atEqualPressure(scene, limits, besidePower(scene))].reverse();
  if (inOrder.length < FIRST + 1) return undefined;
  const first = inOrder.slice(0, FIRST);
  const later = [...inOrder.slice(FIRST), scene];
  const deficits = later.map((each) => -(gapTo(each, first, limits)?.whole ?? Number.NaN)).filter(Number.isFinite);
  const sigma = limits['loss-rising.repeatability'].value;
  const cumulative = deficits.reduce((sum, deficit) => Math.max(0, sum + deficit / sigma - 0.5), 0);
  return { deficits, cumulative };
}

/** The day's own scatter counts against the usual one with this many pulls' weight. @source our default */
const USUAL_WEIGHS = 3;

/** Repeatability of power between the pulls that a scene is held against [1]: the usual one, drawn towards what these pulls show. */
export function powerScatter(scene: PullScene, limits: Limits): number {
  const usual = limits['loss-rising.repeatability'].value;
  const others = besidePower(scene).slice(0, MOST);
  const apart = others
    .map(
      (each, i) =>
        gapTo(
          each,
          others.filter((_, k) => k !== i),
          limits,
        )?.whole ?? Number.NaN,
    )
    .filter(Number.isFinite);
  // Each is held against the middle of the rest: a little wider than its own scatter.
  const own = apart.reduce((sum, gap) => sum + gap ** 2 / (1 + 1 / Math.max(1, others.length - 1)), 0);
  return apart.length < 3 ? usual : Math.sqrt((USUAL_WEIGHS * usual ** 2 + own) / (USUAL_WEIGHS + apart.length));
}

/** Pulls that the later ones are held against. @source our default */
const FIRST = 2;
/** Steps of engine speed that two pulls must share. @source our default: about 950 rpm */
const FEWEST = 5;

/** How much of power the rule of thumb has to explain between two pulls [1]; NaN where they share no engine speed. */
function reachOf(scene: PullScene, other: PullScene, limits: Limits): number {
  const power = powerBySpeed(other, 'rollPower');
  const factor = factorBySpeed(scene, other, limits);
  return middle(factor.map((each, k) => (power[k] > 0 ? Math.abs(each - 1) : Number.NaN)));
}

function expectedPower(scene: PullScene, other: PullScene, limits: Limits): BySpeed {
  const factor = factorBySpeed(scene, other, limits);
  return powerBySpeed(other, 'rollPower').map((power, k) => power * (Number.isFinite(factor[k]) ? factor[k] : 1));
}

/** 1 + sensitivity·Δpressure − sensitivity·Δcharge temperature, at each engine speed. */
function factorBySpeed(scene: PullScene, other: PullScene, limits: Limits): BySpeed {
  const [here, there] = [pressureBySpeed(scene), pressureBySpeed(other)];
  const alone = { ...scene, references: [other] };
  const heat = chargeDifference(alone);
  const warm = 1 - limits['shortfall.per-kelvin'].value * heat;
  const empty = new Float64Array(200).fill(Number.NaN);
  return (here ?? empty).map((p, k) => {
    const q = there?.[k] ?? Number.NaN;
    const perPascal = limits['shortfall.per-pascal'].value * (200e3 / q);
    const change = Number.isFinite(p - q) ? 1 + perPascal * (p - q) : 1;
    return change * warm;
  });
}

function chargeDifference(scene: PullScene): number {
  const [other] = scene.references;
  if (!other) return 0;
  // Where no charge temperature is logged, the air of the hall is as much warmer.
  const pair = (['charge-temperature', 'ambient-temperature'] as const)
    .map((meaning) => [sceneTrack(scene, meaning), sceneTrack(other, meaning)] as const)
    .find(([one, two]) => one && two);
  const [track, beside] = pair ?? [];
  // A probe that read other air says nothing of the charge.
  if (track?.meaning === 'ambient-temperature' && other.spoiled.includes('ambient-probe')) return 0;
  if (!track || !beside || sticks(scene, track) || sticks(other, beside)) return 0;
  const mean = (each: typeof track, { from, to }: PullScene): number =>
    middle(each.values.filter((_, i) => each.times[i] >= (from + to) / 2 && each.times[i] <= to));
  const difference = mean(track, scene) - mean(beside, other);
  return Number.isFinite(difference) ? difference : 0;
}

/** A value that is kept so long although it never was before is stuck and says nothing of the air [s]. @source our default */
const STICKS = 2;
const BY_CHANCE = 1e-6;

function sticks(scene: PullScene, track: SceneTrack): boolean {
  const hold = longestHold(scene, track);
  return hold !== undefined && hold.to - hold.from > STICKS && hold.chance < BY_CHANCE;
}

/** Signals that speak of the engine alone, unchanged against references of equal pressure: [names that agree, names that do not]. */
export function engineUnchanged(
  scene: PullScene,
  limits: Limits,
): { same: readonly Meaning[]; changed: readonly Meaning[] } {
  const checks = [
    { meaning: 'lambda', by: 'difference', limit: 0.02 },
    { meaning: 'ignition-timing', by: 'difference', limit: 0.0175 },
    { meaning: 'turbo-speed', by: 'ratio', limit: 0.02 },
    { meaning: 'air-flow', by: 'ratio', limit: 0.015 },
    { meaning: 'fuel-flow', by: 'ratio', limit: 0.02 },
    { meaning: 'cam-angle', by: 'difference', limit: 0.0175 },
    { meaning: 'coolant-pressure', by: 'difference', limit: 25e3 },
  ] as const;
  const same: Meaning[] = [];
  const changed: Meaning[] = [];
  for (const { meaning, by, limit } of checks) {
    const compared = heldAgainst(scene, limits, { meaning, spoiling: TAKES_POWER });
    const apart = by === 'ratio' ? meanRatio(compared) : meanDifference(compared);
    if (!Number.isFinite(apart)) continue;
    if (Math.abs(apart) > limit) changed.push(meaning);
    else same.push(meaning);
  }
  return { same, changed };
}
