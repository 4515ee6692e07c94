import {
  against,
  type Detector,
  type FaultWindow,
  type Feature,
  informs,
  type Seen,
  windowOf,
} from '../../detector.ts';
import { roughness } from '../../evidence/drive.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { fullStops, type Pulse, unlitFirings } from '../../evidence/unlit.ts';
import { leapsOf } from '../../scene/believed.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { type SceneTrack, valuesBetween } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/**
 * Lost crank or cam signal: the error counter climbs, or engine speed makes steps that no shaft can, with the drive collapsing for all
 * cylinders at once.
 *
 * @source signature: common practice, no source
 */
export const lostSync: Detector = {
  fault: 'lost-sync',
  subject: 'sensors',
  needs: [],
  lookAlikes: ['ignition-breakup', 'rev-or-torque-cut'],
  look: (scene, limits) => {
    if (!sceneTrack(scene, 'sync-errors') && !sceneTrack(scene, 'engine-speed')) {
      return { why: 'neither a sync error counter nor engine speed', missing: ['sync-errors', 'engine-speed'] };
    }
    const { counted, leaps, windows, forceLeft } = syncEvidence(scene);
    const collapsed = forceLeft !== undefined && forceLeft < limits['lost-sync.force-left'].value;
    const features = [
      ...(counted === undefined ? [] : [against(limits, 'lost-sync.counts', counted)]),
      informs('impossible steps of engine speed', leaps, 'count'),
      ...(forceLeft === undefined ? [] : [against(limits, 'lost-sync.force-left', forceLeft)]),
    ];
    // Without a counter, and with the last speed held, what tells is all cylinders stopping at once and coming back.
    const stops = counted === undefined ? stopsAlone(scene) : [];
    const byCounter = counted !== undefined && counted >= limits['lost-sync.counts'].value;
    // Without a counter one odd sample is an instrument's; a drive that stays proves that the engine saw its trigger.
    const bySpeed =
      counted === undefined && leaps >= 2 && (collapsed || forceLeft === undefined || staysAway(scene, windows));
    const both = byCounter && (collapsed || leaps > 0);
    if (!byCounter && !bySpeed) {
      if (stops.length > 0) return stopped(scene, features, stops);
      const blind = counted === undefined ? hiddenStops(scene, limits) : undefined;
      return blind === undefined ? { features } : { why: blind, missing: ['sync-errors'] };
    }
    return {
      windows,
      features,
      strength: both ? 0.95 : byCounter ? 0.7 : collapsed ? 0.85 : 0.55,
      stopClass: countsWrong(scene, windows) ? 2 : 1,
      voids: 'power',
    };
  },
};

/** Why a short stop of all cylinders would not show, where a log keeps the last speed; undefined when it would. */
function hiddenStops(scene: PullScene, limits: Limits): string | undefined {
  const drive = roughness(scene, limits);
  const why = typeof drive === 'string' ? drive : drive.blind;
  return why === undefined ? undefined : `no sync error counter, engine speed makes no impossible step, and ${why}`;
}

/** So many other bursts of firings that did not burn make one in which none did their own. @source our default */
const BURSTS = 3;

/** Stops of all cylinders; a single one among bursts of some of them is the largest of those. */
function stopsAlone(scene: PullScene): readonly Pulse[] {
  const stops = fullStops(scene);
  const bursts = (unlitFirings(scene).lambda ?? []).length - stops.length;
  return stops.length === 1 && bursts >= BURSTS ? [] : stops;
}

/** All cylinders stopped, and nothing but that shows it: a command may have stopped them as well, most of all only once. */
function stopped(scene: PullScene, features: readonly Feature[], stops: readonly Pulse[]): Seen {
  return {
    windows: stops.map((stop) => windowOf(scene, stop)),
    features: [...features, informs('moments in which no cylinder fired', stops.length, 'count')],
    strength: stops.length > 1 ? 0.75 : 0.55,
    stopClass: 1,
    voids: 'power',
  };
}

/** Engine speed that leaps up by this means that teeth were counted that are not there: the spark may come at any moment [1]. @source our default */
const LEAPS = 1.25;

/** Slowest log that shows what engine speed did in a loss [Hz]: at fewer readings a second a short one falls between two of them. @source losses of 20–300 ms: common practice, no source */
const SHOWS_FROM = 20;

/**
 * True when engine speed leapt up, not down, near an event, or the log is too slow to say that it did not.
 *
 * @source wrong teeth mis-time the spark: common practice, no source
 */
function countsWrong(scene: PullScene, windows: readonly FaultWindow[]): boolean {
  const logged = sceneTrack(scene, 'engine-speed');
  if (!logged) return false;
  if (logged.rate < SHOWS_FROM - 0.5 && leapsNear(logged, windows) === 0) return true;
  return windows.some(({ from, to }) => {
    const usual = levelBetween(logged, from - AROUND, to + AROUND);
    return valuesBetween({ ...logged, values: logged.raw }, from - NEAR, to + NEAR).some(
      (value) => value > LEAPS * usual,
    );
  });
}

/** Impossible steps of engine speed at the events. */
function leapsNear(track: SceneTrack, windows: readonly FaultWindow[]): number {
  return leapsOf(track).filter(({ from, to }) => windows.some((one) => from <= one.to + NEAR && to >= one.from - NEAR))
    .length;
}

/** So many samples in a row are no odd one, and for so long the drive cannot show each stop of the cylinders when its cell is read seldom [s]. @source our default */
const ROW = 4;
const UNSEEN = 2;

/** True when engine speed stays away for several samples each time, in a log whose drive is read too seldom to show such a stop. */
function staysAway(scene: PullScene, windows: readonly FaultWindow[]): boolean {
  const track = sceneTrack(scene, 'engine-speed');
  const drive = sceneTrack(scene, 'brake-force') ?? sceneTrack(scene, 'roll-speed');
  if (!track || !drive) return false;
  const leaps = leapsOf(track).filter(({ from }) => windows.some((window) => from >= window.from && from <= window.to));
  const away = leaps.flatMap((leap, k) => {
    const back = leaps[k + 1];
    return k % 2 === 0 && back && Math.sign(back.size) !== Math.sign(leap.size) ? [back.from - leap.from] : [];
  });
  const shortest = Math.min(...away);
  return away.length > 0 && shortest * track.rate >= ROW && shortest * drive.rate < UNSEEN;
}

/** Around an event, and at it [s]. */
const AROUND = 0.5;
const NEAR = 0.1;
