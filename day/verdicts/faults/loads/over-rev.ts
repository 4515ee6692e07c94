import { against, type Detector, type FaultWindow, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { gridOf, type PullScene, speedsAt } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';

/** Around full load in which an over-speed still belongs to this pull [s]: a missed gear comes after lift-off. @source our default */
const BEFORE = 1;
const AFTER = 5;

/** From this rate on the middle of three readings still is the peak [Hz]; a slower log has one reading of it. @source our default */
const QUICK = 40;
const FINEST = 100;

/** Engine speed above the stated redline by more than bolts and springs are meant for. @source limit: common practice, no source */
export const overRev: Detector = {
  fault: 'over-rev',
  subject: 'loads',
  needs: ['engine-speed'],
  lookAlikes: ['lost-sync'],
  look: (scene, limits) => {
    const redline = scene.facts.engine.redline?.value;
    if (redline === undefined || !(redline > 0)) return { why: 'the highest allowed engine speed is not stated' };
    const rate = Math.min(FINEST, scene.engineSpeed?.rate ?? 0);
    // Between the readings of a slow log speed goes straight: how long it was above its limit is finer than they are.
    const times = gridOf(scene, rate < QUICK ? FINEST : rate, { from: scene.from - BEFORE, to: endOf(scene) });
    const logged = speedsAt(scene, times).map((speed) => speed / redline);
    const share = rate < QUICK ? logged : runningQuantile({ times, values: logged }, 1 / rate, 0.5);
    const [limit, shortest] = [limits['over-rev.share'].value, limits['over-rev.shortest'].value];
    const windows = windowsWhere(scene, { times, holds: (i) => share[i] > limit, shortest, join: 0.2 }).filter(
      (window) => readingsAbove(scene, window, limit * redline) > (rate * shortest < 1 ? 0 : 1),
    );
    const top = largest(share);
    const features = [
      against(limits, 'over-rev.share', top),
      informs('highest engine speed', top * redline, 'engine-speed'),
    ];
    return windows.length > 0
      ? { windows, features, strength: strengthOf(1 + (top - limit) / 0.03, 0.75), stopClass: 2 }
      : { features };
  },
};

/** Readings above a speed [rad/s] in a window: one alone may be a spike where the next follows sooner than an over-speed must last. */
function readingsAbove({ engineSpeed }: PullScene, { from, to }: FaultWindow, speed: number): number {
  if (!engineSpeed) return Number.POSITIVE_INFINITY;
  const { times, values } = engineSpeed;
  return values.filter((value, i) => value > speed && times[i] >= from - 0.01 && times[i] <= to + 0.01).length;
}

/** Some seconds after full load, but never into the next one. */
function endOf({ to, segments }: PullScene): number {
  const next = segments.filter(({ kind, fromTime }) => kind === 'full-load' && fromTime > to);
  return Math.min(to + AFTER, ...next.map(({ fromTime }) => fromTime));
}
