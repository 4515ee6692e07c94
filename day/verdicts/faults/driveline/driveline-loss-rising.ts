import type { Meaning } from '../../../channels/index.ts';
import {
  against,
  type Detector,
  informs,
  type Seen,
  strengthOf,
  type Unseen,
  type Untold,
  windowOf,
} from '../../detector.ts';
import { besidePower, whyNoPower } from '../../evidence/beside.ts';
import { type OverrunRise, overrunRise } from '../../evidence/overrun-rise.ts';
import { engineUnchanged, powerGap, powerTrend } from '../../evidence/power-gap.ts';
import { endLevel, heldAgainst, meanRatio } from '../../evidence/references.ts';
import { slipAbove } from '../../evidence/slip-beside.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/**
 * Driveline loss rising. With an overrun in gear, the drag itself tells: it rises from pull to pull with the throttle shut, where neither
 * combustion nor the scatter of the power has a part, while oil pressure stays. Without one, roll power falls short of the day's other pulls
 * at equal manifold pressure, at every speed, while nothing of the engine changed; hotter axle or gearbox oil confirms, without it the
 * shortfall must be twice as large.
 *
 * @source signature and temperature: common practice, no source; shares: our default
 */
export const drivelineLossRising: Detector = {
  fault: 'driveline-loss-rising',
  subject: 'driveline',
  needs: ['manifold-pressure', 'engine-speed'],
  lookAlikes: ['head-lift', 'charge-heat-soak', 'power-shortfall', 'wheel-slip'],
  look: (scene, limits) => {
    const rise = overrunRise(scene);
    return typeof rise === 'string' ? byPower(scene, limits) : byOverrun(scene, limits, rise);
  },
};

/** Oil pressure that is lower than before by this: the engine's own friction may have risen [1]. @source our default */
const OIL_LESS = 0.05;

/** What drags with the throttle shut has grown, or has not. */
function byOverrun(scene: PullScene, limits: Limits, rise: OverrunRise): Seen | Unseen | Untold {
  const limit = limits['loss-rising.overrun'].value;
  const hotter = hotterAxle(scene);
  const gap = powerGap(scene, limits, 'equal');
  const features = [
    against(limits, 'loss-rising.overrun', rise.share),
    against(limits, 'loss-rising.overrun-drag', rise.ofDrag),
    ...(Number.isFinite(hotter) ? [against(limits, 'loss-rising.temperature', hotter)] : []),
    ...(gap ? [informs('roll power short of earlier pulls', -gap.whole, 'fraction')] : []),
  ];
  const hot = hotter > limits['loss-rising.temperature'].value;
  const times = rise.pulls > 1 || hot ? 1 : ALONE;
  const risen =
    rise.share > times * limit &&
    rise.ofDrag > times * limits['loss-rising.overrun-drag'].value &&
    rise.deviations > DEVIATIONS;
  if (!risen) return { features };
  const oil = meanRatio(heldAgainst(scene, limits, { meaning: 'oil-pressure', spoiling: [] }));
  if (oil < -OIL_LESS)
    return { why: 'the drag with the throttle shut rose, but oil pressure fell: it may be the engine’s own friction' };
  const least = 0.6 + (Number.isFinite(oil) ? 0.05 : 0) + (hot ? 0.1 : 0);
  return { windows: [windowOf(scene, scene)], features, strength: strengthOf(rise.share / limit, least), stopClass: 2 };
}

/** One earlier pull alone does not show how much the drag differs from pull to pull: so many times the limit is asked for, unless an axle or gearbox runs hotter. @source our default */
const ALONE = 1.5;
/** Of the spread of the drag itself. @source our default */
const DEVIATIONS = 2.5;

/** How much hotter axle or gearbox oil are at the end than in the pulls beside [K]; −∞ where neither is logged. */
function hotterAxle(scene: PullScene): number {
  const others = besidePower(scene).slice(0, 6);
  return Math.max(
    ...(['axle-temperature', 'gearbox-temperature'] as const).map((meaning) => {
      const rise = endLevel(scene, meaning) - middle(others.map((other) => endLevel(other, meaning)));
      return Number.isFinite(rise) ? rise : Number.NEGATIVE_INFINITY;
    }),
  );
}

/** What shows how much an engine works, apart from the rolls. @source common practice, no source */
const WORK: readonly Meaning[] = ['air-flow', 'fuel-flow', 'turbo-speed'];

/** Without an overrun to look at: what arrives at the rolls. */
function byPower(scene: PullScene, limits: Limits): Seen | Unseen | Untold {
  const gap = powerGap(scene, limits, 'equal');
  if (!gap) return { why: whyNoPower(scene) };
  const hotter = hotterAxle(scene);
  const { same, changed } = engineUnchanged(scene, limits);
  const hot = hotter > limits['loss-rising.temperature'].value;
  const limit = limits[hot ? 'loss-rising.share' : 'loss-rising.share-alone'].value;
  const features = [
    against(limits, hot ? 'loss-rising.share' : 'loss-rising.share-alone', -gap.whole),
    ...(Number.isFinite(hotter) ? [against(limits, 'loss-rising.temperature', hotter)] : []),
    informs('engine signals unchanged', same.length, 'count'),
    informs('engine signals changed', changed.length, 'count'),
  ];
  // What slips between engine and rolls takes power as well, and is another fault.
  const slip = slipAbove(scene, gap.speed[Math.floor(gap.speed.length / 2)]);
  if (slip > 0) return { features: [...features, informs('engine ahead of the rolls', slip, 'fraction')] };
  const everywhere = -gap.low > 0.3 * limit && -gap.high > limit;
  // Much hotter oil and a large shortfall speak for themselves even where something of the engine was changed as well.
  const despite = hot && -gap.whole > limits['loss-rising.share-alone'].value;
  const trend = powerTrend(scene, limits);
  if (trend) features.push(against(limits, 'loss-rising.cumulative', trend.cumulative));
  const grown =
    trend !== undefined &&
    isGrowing(trend.deficits, limits) &&
    trend.cumulative > limits['loss-rising.cumulative'].value;
  const short = grown || (everywhere && -gap.whole > limit);
  if ((changed.length > 0 && !despite) || !short) return { features };
  // Mixture and timing are what they were in an engine that has lost its health as well.
  if (!same.some((meaning) => WORK.includes(meaning)) && !hot)
    return {
      why: 'power is short, but nothing shows that the engine still works as it did: neither air, fuel or turbo speed nor a driveline that runs hotter',
      missing: WORK.some((meaning) => sceneTrack(scene, meaning)) ? [] : WORK,
    };
  const sure = hot && changed.length === 0;
  const size = grown
    ? Math.max(-gap.whole / limit, trend.cumulative / limits['loss-rising.cumulative'].value)
    : -gap.whole / limit;
  const strength = strengthOf(size, sure ? 0.65 : 0.4, sure ? 0.9 : 0.6);
  return { windows: [windowOf(scene, scene)], features, strength, stopClass: 2 };
}

/** True when the last deficit is beyond the limit and not below the middle of those before it. */
function isGrowing(deficits: readonly number[], limits: Limits): boolean {
  const last = deficits[deficits.length - 1];
  const before = middle(deficits.slice(0, -1));
  return last > limits['loss-rising.share'].value && (deficits.length < 2 || last > before);
}
