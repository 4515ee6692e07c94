import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { besidePower, whyNoPower } from '../../evidence/beside.ts';
import { engineUnchanged, powerGap, powerTrend } from '../../evidence/power-gap.ts';
import { endLevel } from '../../evidence/references.ts';
import { middle } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

/**
 * Driveline loss rising: roll power falls short of the day's other pulls at equal manifold pressure, at every speed, while nothing of the
 * engine changed. Hotter axle or gearbox oil confirms; without it the shortfall must be twice as large.
 *
 * @source signature and temperature: common practice, no source; shares: our default
 */
export const drivelineLossRising: Detector = {
  fault: 'driveline-loss-rising',
  subject: 'driveline',
  needs: ['manifold-pressure', 'engine-speed'],
  lookAlikes: ['head-lift', 'charge-heat-soak', 'power-shortfall', 'wheel-slip'],
  look: (scene, limits) => {
    const gap = powerGap(scene, limits, 'equal');
    if (!gap) return { why: whyNoPower(scene) };
    const others = besidePower(scene).slice(0, 6);
    const hotter = Math.max(
      ...(['axle-temperature', 'gearbox-temperature'] as const).map((meaning) => {
        const rise = endLevel(scene, meaning) - middle(others.map((other) => endLevel(other, meaning)));
        return Number.isFinite(rise) ? rise : Number.NEGATIVE_INFINITY;
      }),
    );
    const { same, changed } = engineUnchanged(scene, limits);
    const hot = hotter > limits['loss-rising.temperature'].value;
    const limit = limits[hot ? 'loss-rising.share' : 'loss-rising.share-alone'].value;
    const features = [
      against(limits, hot ? 'loss-rising.share' : 'loss-rising.share-alone', -gap.whole),
      ...(Number.isFinite(hotter) ? [against(limits, 'loss-rising.temperature', hotter)] : []),
      informs('engine signals unchanged', same.length, 'count'),
      informs('engine signals changed', changed.length, 'count'),
    ];
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
    if (same.length === 0)
      return { why: 'power is short, but no signal of the engine alone is there to say that it is not the engine' };
    const sure = hot && changed.length === 0;
    const size = grown
      ? Math.max(-gap.whole / limit, trend.cumulative / limits['loss-rising.cumulative'].value)
      : -gap.whole / limit;
    const strength = strengthOf(size, sure ? 0.65 : 0.4, sure ? 0.9 : 0.6);
    return { windows: [windowOf(scene, scene)], features, strength, stopClass: 2 };
  },
};

/** True when the last deficit is beyond the limit and not below the middle of those before it. */
function isGrowing(deficits: readonly number[], limits: Limits): boolean {
  const last = deficits[deficits.length - 1];
  const before = middle(deficits.slice(0, -1));
  return last > limits['loss-rising.share'].value && (deficits.length < 2 || last > before);
}
