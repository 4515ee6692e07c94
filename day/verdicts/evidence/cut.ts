import { type FaultWindow, windowOf, windowsWhere } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import { gridOf, type PullScene, sceneTrack } from '../scene/scene.ts';
import { finite, middle, runningQuantile, smooth } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';
import { roughness } from './drive.ts';
import { rhythmicLosses } from './rhythm.ts';
import { ratioAhead } from './slip-beside.ts';

/** Commanded cuts within this belong to one [s]. @source our default: a limiter at 5 Hz is one event */
const JOIN = 0.35;
/** Without a status, fuel or timing that is never away for so long is a single dropped event: what a lost trigger does [s]. @source limiters keep 5–20 Hz: common practice, no source; length: our default */
const SHORTEST = 0.12;

/** Where the engine was cut on command, and what told it. */
export interface CutEvidence {
  readonly windows: readonly FaultWindow[];
  readonly by: 'status' | 'fuel' | 'timing' | 'notches' | 'rhythm' | 'nothing';
}

/** Commanded cuts during full load: by the status, else by fuel or timing, else by a drive that repeats itself or is lost while something keeps a limiter’s rate. */
export const cutEvidence: (scene: PullScene, limits: Limits) => CutEvidence = kept(foundCuts);

function foundCuts(scene: PullScene, limits: Limits): CutEvidence {
  const status = sceneTrack(scene, 'cut-status');
  if (status) return told(scene, 'status', statusOff(scene, status));
  const fuel =
    sceneTrack(scene, 'injector-pulse') ?? sceneTrack(scene, 'injector-duty') ?? sceneTrack(scene, 'fuel-flow');
  if (fuel) {
    const found = told(scene, 'fuel', belowOwnLevel(scene, fuel, limits['cut.fuel-left'].value));
    if (lasts(found)) return found;
  }
  const timing = sceneTrack(scene, 'ignition-timing');
  if (timing) {
    const found = told(scene, 'timing', timingSteps(scene, timing, limits['cut.timing-step'].value));
    if (lasts(found)) return found;
  }
  const found = notches(scene, limits);
  return found.windows.length > 0 ? found : rhythm(scene);
}

function lasts({ windows }: CutEvidence): boolean {
  return Math.max(0, ...windows.map(({ from, to }) => to - from)) >= SHORTEST;
}

/** Drive that is lost while engine, rolls or lambda swing at one rate. */
function rhythm(scene: PullScene): CutEvidence {
  const spans: { from: number; to: number }[] = [];
  for (const span of rhythmicLosses(scene)) {
    const last = spans[spans.length - 1];
    if (last && span.from - last.to < JOIN) last.to = Math.max(last.to, span.to);
    else spans.push({ ...span });
  }
  return { windows: spans.map((span) => windowOf(scene, span)), by: spans.length > 0 ? 'rhythm' : 'nothing' };
}

interface Marks {
  readonly times: Float64Array;
  readonly holds: (index: number) => boolean;
}

function told(scene: PullScene, by: CutEvidence['by'], marks: Marks): CutEvidence {
  const windows = windowsWhere(scene, { ...marks, shortest: 0, join: JOIN });
  return { windows, by: windows.length > 0 ? by : 'nothing' };
}

/** Time that is too near the ends of full load to tell a cut from tip-in and lift-off [s]. @source our default */
const EDGE = 0.15;

function statusOff(scene: PullScene, status: SceneTrack): Marks {
  const times = gridOf(scene, Math.min(200, Math.max(50, status.rate)), {
    from: scene.from + EDGE,
    to: scene.to - EDGE,
  });
  const values = onTimes(status, times);
  const usual = middle(values);
  return { times, holds: (i) => Number.isFinite(values[i]) && values[i] !== usual };
}

function belowOwnLevel(scene: PullScene, fuel: SceneTrack, share: number): Marks {
  const times = gridOf(scene, Math.min(200, fuel.rate), { from: scene.from + EDGE, to: scene.to - EDGE });
  const values = onTimes(fuel, times);
  const level = runningQuantile({ times, values }, 0.5, 0.8);
  return { times, holds: (i) => values[i] < share * level[i] };
}

function timingSteps(scene: PullScene, timing: SceneTrack, step: number): Marks {
  const times = gridOf(scene, Math.min(200, timing.rate), { from: scene.from + EDGE, to: scene.to - EDGE });
  const values = onTimes(timing, times);
  const level = runningQuantile({ times, values }, 0.5, 0.7);
  return { times, holds: (i) => values[i] < level[i] - step };
}

/**
 * Notches repeat at 5–20 Hz [s]; this much of the drive's swing must come back one and three periods later [1], over as many periods.
 * Misfire bursts come at random and do not. @source rate: common practice, no source; shares: our default
 */
const PERIOD = { shortest: 0.05, longest: 0.22 } as const;
const COMES_BACK = 0.5;
const PERIODS = 5;
/** A stretch shorter than this [s] must come back so well: few periods are alike by chance now and then. @source our default */
const SHORT = { seconds: 1, comesBack: 0.7 } as const;

/** Rough stretches in which the drive repeats itself at a limiter's rate. */
function notches(scene: PullScene, limits: Limits): CutEvidence {
  const drive = roughness(scene, limits);
  if (typeof drive === 'string') return { windows: [], by: 'nothing' };
  const step = drive.times[1] - drive.times[0];
  const stretches = windowsWhere(scene, { times: drive.times, holds: drive.rough, shortest: 0.3, join: JOIN });
  const windows = stretches.filter(({ from, to }) => {
    const first = Math.round((from - drive.times[0]) / step);
    const last = Math.round((to - drive.times[0]) / step);
    const swing = drive.swing.slice(first, last + 1);
    const force = middle(drive.force.slice(first, last + 1));
    return repeats(swing, step) && !shakenByAir(scene, { from, to }, { swing, force }) && !slipsIn(scene, { from, to });
  });
  return { windows, by: windows.length > 0 ? 'notches' : 'nothing' };
}

/** Manifold pressure that swings by this share of what the drive does is what shakes it: surge or its control; a cut leaves the air where it was [1]. @source our default */
const AIR_SWINGS = 0.4;
/** Swings looked at from here on [Hz]. @source our default: a limiter's lowest rate */
const SWINGS_FROM = 4;

/** True when manifold pressure swings with the drive, both as shares of their means. */
function shakenByAir(
  scene: PullScene,
  span: { readonly from: number; readonly to: number },
  drive: { readonly swing: Float64Array; readonly force: number },
): boolean {
  const pressure = sceneTrack(scene, 'manifold-pressure');
  if (!pressure || pressure.rate < 2 * SWINGS_FROM) return false;
  const times = gridOf(scene, Math.min(100, pressure.rate), span);
  const values = onTimes(pressure, times);
  const slow = smooth({ times, values }, SWINGS_FROM / 2);
  const air = deviation(values.map((value, i) => value - slow[i])) / middle(values);
  return air > (AIR_SWINGS * deviation(drive.swing)) / drive.force;
}

/** Engine ahead of the rolls by this beyond earlier pulls: tyres or clutch slip, and chatter as they do [1]. @source gross slip, common practice, no source: 5 %; half of it chatters: our default */
const SLIPS = 0.025;

/** True when engine speed is not tied to the rolls there. */
function slipsIn(scene: PullScene, { from, to }: { readonly from: number; readonly to: number }): boolean {
  const ahead = ratioAhead(scene);
  return (
    ahead !== undefined && middle(ahead.beyond.filter((_, i) => ahead.times[i] >= from && ahead.times[i] <= to)) > SLIPS
  );
}

function deviation(values: Float64Array): number {
  const known = finite(values);
  return Math.sqrt(known.reduce((sum, value) => sum + value * value, 0) / known.length);
}

/** True when a swing has a period within a limiter's range that it keeps for three periods. */
function repeats(swing: Float64Array, step: number): boolean {
  const least = (swing.length - 1) * step < SHORT.seconds ? SHORT.comesBack : COMES_BACK;
  const longest = Math.min(Math.round(PERIOD.longest / step), Math.floor(swing.length / PERIODS));
  for (let lag = Math.max(2, Math.round(PERIOD.shortest / step)); lag <= longest; lag++) {
    const isPeak = likeness(swing, lag) > least && likeness(swing, lag) >= likeness(swing, lag + 1);
    if (!isPeak) continue;
    const later = [-2, -1, 0, 1, 2].map((off) => likeness(swing, 3 * lag + off));
    if (Math.max(...later) > COMES_BACK) return true;
  }
  return false;
}

/** Correlation of a swing with itself some samples later [1]. */
function likeness(swing: Float64Array, lag: number): number {
  let [product, early, late] = [0, 0, 0];
  for (let i = 0; i + lag < swing.length; i++) {
    if (!Number.isFinite(swing[i] + swing[i + lag])) continue;
    product += swing[i] * swing[i + lag];
    early += swing[i] ** 2;
    late += swing[i + lag] ** 2;
  }
  return early > 0 && late > 0 ? product / Math.sqrt(early * late) : 0;
}
