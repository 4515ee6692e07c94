import { type FaultWindow, windowOf } from '../detector.ts';
import { leapsOf } from '../scene/believed.ts';
import { keptOf } from '../scene/memory.ts';
import { type PullScene, sceneTrack } from '../scene/scene.ts';
import { finite, runningQuantile, smooth } from '../scene/series.ts';
import { driveForce } from './drive.ts';
import { nextLoad } from './full-load.ts';

/** What speaks for a lost trigger: increments of the counter during full load, impossible steps of engine speed, and where [s]. */
export interface SyncEvidence {
  readonly counted: number | undefined;
  readonly leaps: number;
  readonly windows: readonly FaultWindow[];
  /** Smallest share of its own level that the drive fell to near an event [1]; undefined when unknown. */
  readonly forceLeft: number | undefined;
}

/** Events nearer than this are one [s]; the drive answers within [s]. @source our default */
const JOIN = 0.5;
const ANSWER = 0.25;

/** Evidence for a lost crank or cam signal during full load. */
export const syncEvidence: (scene: PullScene) => SyncEvidence = keptOf(foundLosses);

function foundLosses(scene: PullScene): SyncEvidence {
  const end = nextLoad(scene);
  const counter = sceneTrack(scene, 'sync-errors');
  const counts = counter ? increments(scene, counter) : [];
  const logged = sceneTrack(scene, 'engine-speed');
  const leaps = logged ? leapsOf(logged).filter(({ from, to }) => from > scene.from && to < end) : [];
  const moments = [...counts.map(({ time }) => time), ...leaps.flatMap(({ from, to }) => [from, to])].sort(
    (a, b) => a - b,
  );
  const spans: { from: number; to: number }[] = [];
  for (const time of moments) {
    const last = spans[spans.length - 1];
    if (last && time - last.to <= JOIN) last.to = time;
    else spans.push({ from: time, to: time });
  }
  return {
    counted: counter ? counts.reduce((sum, { size }) => sum + size, 0) : undefined,
    leaps: leaps.length,
    windows: spans.map((span) => windowOf(scene, span)),
    forceLeft: forceLeft(scene, spans),
  };
}

function increments(
  scene: PullScene,
  { times, raw }: { times: Float64Array; raw: Float64Array },
): { time: number; size: number }[] {
  const end = nextLoad(scene);
  const found: { time: number; size: number }[] = [];
  for (let i = 1; i < raw.length; i++) {
    if (times[i] > scene.from && times[i] <= end && raw[i] > raw[i - 1])
      found.push({ time: times[i], size: raw[i] - raw[i - 1] });
  }
  return found;
}

function forceLeft(scene: PullScene, spans: readonly { from: number; to: number }[]): number | undefined {
  const drive = driveForce(scene);
  if (!drive || spans.length === 0) return undefined;
  const rate = 1 / (drive.times[1] - drive.times[0]);
  const values = smooth(drive, Math.min(15, rate / 5));
  const level = runningQuantile(drive, 0.6, 0.6);
  const shares = finite(
    values.map((value, i) =>
      spans.some(({ from, to }) => drive.times[i] >= from - 0.1 && drive.times[i] <= to + ANSWER)
        ? value / level[i]
        : Number.NaN,
    ),
  );
  return shares.length > 0 ? Math.min(...shares) : undefined;
}
