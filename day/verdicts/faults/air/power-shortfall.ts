import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { whyNoPower } from '../../evidence/beside.ts';
import { powerGap } from '../../evidence/power-gap.ts';

/**
 * Power short of what the day's other pulls would make at this manifold pressure and charge temperature: the summary sign, no cause.
 *
 * @source sensitivities: simple engine model near 200 kPa; limit: our default, about three times an ordinary repeatability of 0.7 %
 */
export const powerShortfall: Detector = {
  fault: 'power-shortfall',
  subject: 'air',
  needs: ['manifold-pressure', 'engine-speed'],
  lookAlikes: ['driveline-loss-rising', 'head-lift', 'ignition-breakup', 'charge-heat-soak', 'knock'],
  look: (scene, limits) => {
    const gap = powerGap(scene, limits, 'any');
    if (!gap) return { why: whyNoPower(scene) };
    // A larger step of pressure leaves more to the rule of thumb, whose own spread is about a tenth of what it explains.
    const repeats = limits['loss-rising.repeatability'].value * Math.sqrt(1 + 1 / gap.references);
    const limit =
      Math.max(limits['shortfall.share'].value, limits['shortfall.deviations'].value * repeats) + 0.1 * gap.explained;
    const features = [
      { ...against(limits, 'shortfall.share', -gap.whole), threshold: limit },
      informs('shortfall in the lower third of speed', -gap.low, 'fraction'),
      informs('shortfall in the upper third of speed', -gap.high, 'fraction'),
    ];
    const worst = Math.max(-gap.whole, 0.6 * Math.max(-gap.low, -gap.high));
    if (!(worst > limit)) return { features };
    return {
      windows: [windowOf(scene, scene)],
      features,
      strength: strengthOf(worst / limit, 0.5, gap.references > 1 ? 0.85 : 0.6),
      stopClass: 2,
    };
  },
};
