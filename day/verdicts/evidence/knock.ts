import { type FaultWindow, windowsWhere } from '../detector.ts';
import { kept } from '../scene/memory.ts';
import { gridOf, type PullScene, speedsAt, tracksAt } from '../scene/scene.ts';
import { largest, middle, runningQuantile } from '../scene/series.ts';
import { onTimes, type SceneTrack } from '../scene/track.ts';
import type { Limits } from '../thresholds.ts';

/** Knock of one channel within this is one event [s]. @source our default */
const ONE_EVENT = 0.05;
/** Slowest level channel that can show single events [Hz]. @source our default */
const SLOWEST = 15;
/** The background is the middle level within ± this [s]. @source our default */
const BACKGROUND = 0.5;

/** Counted events belong together within so many cycles; engine speed where it is unknown [rad/s]. @source common practice, no source: two events in ten cycles */
const TEN = 10;
const USUAL = 400;

/** So many events a second are counted over the busiest stretch of this length [s]: a short burst that retard ends is no heavy knock. @source our default */
const BUSIEST = 2.5;

/** One loud moment [s] of a channel: its level over its own background there [1]. */
export interface KnockEvent {
  readonly time: number;
  readonly times: number;
  readonly channel: string;
}

/** Retard on `times` [s] beyond that of the start of the pull [rad], the largest of all channels; and where it is beyond its limit. */
export interface Retard {
  readonly times: Float64Array;
  readonly grown: Float64Array;
  readonly windows: readonly FaultWindow[];
  readonly largest: number;
}

/** Everything that speaks of knock in a pull; a list is undefined where no such channel is logged. */
export interface KnockEvidence {
  readonly retard: Retard | undefined;
  /** By channel, in order of time. */
  readonly events: readonly (readonly KnockEvent[])[] | undefined;
  /** What the counters show; undefined where none is logged. */
  readonly counted: CountedKnock | undefined;
}

/** Events that the counters show: the most within ten cycles, a second over the busiest stretch [1/s], and from the first to the last [s]. */
export interface CountedKnock {
  readonly most: number;
  readonly rate: number;
  readonly span: { readonly from: number; readonly to: number } | undefined;
}

/** Evidence of knock: retard of either sign convention, levels far above their own background, counters that climb. */
export const knockEvidence: (scene: PullScene, limits: Limits) => KnockEvidence = kept((scene, limits) => {
  const retards = tracksAt(scene, 'knock-retard');
  const levels = tracksAt(scene, 'knock-level');
  const counts = tracksAt(scene, 'knock-count');
  return {
    retard: retards.length > 0 ? retardOf(scene, retards, limits) : undefined,
    events: levels.length > 0 ? levels.map((track) => levelEvents(scene, track, limits)) : undefined,
    counted:
      counts.length > 0
        ? countedIn(
            scene,
            counts.map((track) => climbsOf(scene, track)),
          )
        : undefined,
  };
});

function retardOf(scene: PullScene, tracks: readonly SceneTrack[], limits: Limits): Retard {
  const times = gridOf(scene, 50);
  const each = tracks.map((track) => {
    const values = onTimes(track, times);
    const start = middle(values.subarray(0, 20));
    return values.map((value) => Math.abs(value) - Math.abs(start) - 3 * track.noise);
  });
  const grown = times.map((_, i) => largest(each.map((values) => values[i])));
  const limit = limits['knock.retard'].value;
  const windows = windowsWhere(scene, { times, holds: (i) => grown[i] >= limit - 1e-9, shortest: 0.06, join: 0.3 });
  return { times, grown, windows, largest: Math.max(0, largest(grown)) };
}

function levelEvents(scene: PullScene, track: SceneTrack, limits: Limits): KnockEvent[] {
  if (track.rate < SLOWEST) return [];
  const events: KnockEvent[] = [];
  const first = track.times.findIndex((t) => t >= scene.from);
  const last = track.times.findLastIndex((t) => t <= scene.to);
  if (first < 0 || last <= first) return [];
  const times = track.times.slice(first, last + 1);
  const values = track.raw.slice(first, last + 1);
  const background = runningQuantile({ times, values }, BACKGROUND, 0.5);
  values.forEach((value, i) => {
    if (!(value > limits['knock.level'].value * background[i] && background[i] > 0)) return;
    const before = events[events.length - 1];
    const event = { time: times[i], times: value / background[i], channel: track.name };
    if (!before || times[i] - before.time > ONE_EVENT) events.push(event);
    else if (event.times > before.times) events[events.length - 1] = { ...event, time: before.time };
  });
  return events;
}

interface Climb {
  readonly time: number;
  readonly size: number;
}

/** Steps up of a counter at full load. */
function climbsOf(scene: PullScene, { times, raw }: SceneTrack): readonly Climb[] {
  const climbs: Climb[] = [];
  for (let i = 1; i < raw.length; i++) {
    if (times[i] > scene.from && times[i] <= scene.to && raw[i] > raw[i - 1])
      climbs.push({ time: times[i], size: raw[i] - raw[i - 1] });
  }
  return climbs;
}

function countedIn(scene: PullScene, counters: readonly (readonly Climb[])[]): CountedKnock {
  const times = counters.flat().map(({ time }) => time);
  return {
    most: Math.max(...counters.map((climbs) => mostWithin(climbs, (time) => tenCycles(scene, time)))),
    rate: Math.max(...counters.map((climbs) => mostWithin(climbs, () => BUSIEST))) / BUSIEST,
    span: times.length > 0 ? { from: Math.min(...times), to: Math.max(...times) } : undefined,
  };
}

/** Events within a length [s] from any step of a counter on, at most. */
function mostWithin(climbs: readonly Climb[], lengthFrom: (time: number) => number): number {
  let [most, sum, next] = [0, 0, 0];
  for (const { time, size } of climbs) {
    const end = time + lengthFrom(time);
    for (; next < climbs.length && climbs[next].time < end; next++) sum += climbs[next].size;
    most = Math.max(most, sum);
    sum -= size;
  }
  return most;
}

/** How long ten cycles take at a time [s]. */
function tenCycles(scene: PullScene, time: number): number {
  const turns = scene.facts.engine.strokesPerCycle === 2 ? 1 : 2;
  const [speed] = speedsAt(scene, Float64Array.of(time));
  return (TEN * turns * 2 * Math.PI) / (speed > 0 ? speed : USUAL);
}

/** Events of one channel a second over the busiest stretch [1/s]. */
export function busiest(events: readonly KnockEvent[]): number {
  return Math.max(
    0,
    ...events.map(
      ({ time, channel }) =>
        events.filter((other) => other.channel === channel && other.time >= time && other.time < time + BUSIEST)
          .length / BUSIEST,
    ),
  );
}
