import { against, type Detector, type FaultWindow, informs, windowOf, windowsWhere } from '../../detector.ts';
import { gridOf, type PullScene, tracksAt } from '../../scene/scene.ts';
import { largest, middle, runningQuantile } from '../../scene/series.ts';
import { onTimes, type SceneTrack } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** Knock of one channel within this is one event [s]. @source our default */
const ONE_EVENT = 0.05;

/**
 * Knock and the retard that answers it: retard steps, counted events, or a level far above its own background at that moment.
 *
 * @source limits: common practice, no source
 */
export const knock: Detector = {
  fault: 'knock',
  subject: 'knock',
  needs: [],
  lookAlikes: ['valve-float'],
  look: (scene, limits) => {
    const retards = tracksAt(scene, 'knock-retard');
    const levels = tracksAt(scene, 'knock-level');
    const counts = tracksAt(scene, 'knock-count');
    if (retards.length + levels.length + counts.length === 0) {
      return { why: 'neither knock level, retard nor count', missing: ['knock-level', 'knock-retard', 'knock-count'] };
    }
    const retard = retardOf(scene, retards, limits);
    const events = levels.map((track) => levelEvents(scene, track, limits));
    const most = Math.max(0, ...events.map((list) => list.length));
    const counted = counts.reduce((sum, track) => sum + climbed(scene, track), 0);
    const least = limits['knock.events'].value;
    const byRetard = retard.windows.length > 0;
    // One loud sample is a loose wire; two on one cylinder are knock. Where retard is logged, it must have answered, or the events be many.
    const byLevel = most >= (retards.length > 0 ? 2 * least : least);
    const features = [
      ...(retards.length > 0 ? [against(limits, 'knock.retard', retard.largest)] : []),
      ...(levels.length > 0 ? [against(limits, 'knock.events', most)] : []),
      ...(counts.length > 0 ? [against(limits, 'knock.events', counted)] : []),
    ];
    if (!byRetard && !byLevel && counted < least) return { features };
    const moments = events.filter((list) => list.length >= least).flat();
    const windows = byRetard ? retard.windows : spanOf(scene, moments);
    const seconds = windows.reduce((sum, { from, to }) => sum + to - from, 0.2);
    const rate = Math.max(moments.length, counted) / seconds;
    const heavy =
      retard.largest > limits['knock.heavy-retard'].value ||
      (rate >= limits['knock.heavy-rate'].value && moments.length >= 6);
    return {
      windows: windows.length > 0 ? windows : [windowOf(scene, scene)],
      features: [...features, informs('events', moments.length, 'count'), against(limits, 'knock.heavy-rate', rate)],
      strength: byRetard && (byLevel || most >= least) ? 0.95 : byRetard ? 0.75 : counted >= least ? 0.7 : 0.6,
      stopClass: heavy ? 2 : 1,
    };
  },
};

interface Retard {
  readonly windows: readonly FaultWindow[];
  readonly largest: number;
}

/** Retard beyond what there was at the start of the pull, either sign convention. */
function retardOf(scene: PullScene, tracks: readonly SceneTrack[], limits: Limits): Retard {
  const times = gridOf(scene, 50);
  const grown = tracks.map((track) => {
    const values = onTimes(track, times);
    const start = middle(values.subarray(0, 20));
    return values.map((value) => Math.abs(value) - Math.abs(start) - 3 * track.noise);
  });
  const most = times.map((_, i) => largest(grown.map((values) => values[i])));
  const limit = limits['knock.retard'].value;
  const windows = windowsWhere(scene, { times, holds: (i) => most[i] >= limit - 1e-9, shortest: 0.06, join: 0.3 });
  return { windows, largest: Math.max(0, largest(most)) };
}

/** Moments at which a level stands far above its own background around it. */
function levelEvents(scene: PullScene, track: SceneTrack, limits: Limits): number[] {
  if (track.rate < 15) return [];
  const moments: number[] = [];
  const inside = track.times.map((t) => (t >= scene.from && t <= scene.to ? 1 : 0));
  const times = track.times.filter((_, i) => inside[i] === 1);
  const values = track.raw.filter((_, i) => inside[i] === 1);
  const background = runningQuantile({ times, values }, 0.5, 0.5);
  values.forEach((value, i) => {
    if (!(value > limits['knock.level'].value * background[i] && background[i] > 0)) return;
    if (moments.length === 0 || times[i] - moments[moments.length - 1] > ONE_EVENT) moments.push(times[i]);
  });
  return moments;
}

function spanOf(scene: PullScene, moments: readonly number[]): readonly FaultWindow[] {
  if (moments.length === 0) return [];
  return [windowOf(scene, { from: Math.min(...moments), to: Math.max(...moments) })];
}

function climbed(scene: PullScene, { times, raw }: SceneTrack): number {
  let sum = 0;
  for (let i = 1; i < raw.length; i++) {
    if (times[i] > scene.from && times[i] <= scene.to && raw[i] > raw[i - 1]) sum += raw[i] - raw[i - 1];
  }
  return sum;
}
