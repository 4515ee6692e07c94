import { against, type Detector, informs, strengthOf, windowsWhere } from '../../detector.ts';
import { slipSeries } from '../../evidence/slip.ts';
import { wheelKeepsToRoll } from '../../evidence/wheel.ts';
import { largest } from '../../scene/series.ts';

/**
 * Tyre slipping on the roller: engine speed over roll speed rises smoothly away from what creep explains. With a driven wheel speed that
 * stays with the roll it is not the tyre.
 *
 * @source signature and limits: common practice, no source
 */
export const wheelSlip: Detector = {
  fault: 'wheel-slip',
  subject: 'traction',
  needs: ['engine-speed'],
  lookAlikes: ['clutch-slip', 'converter-slip', 'lost-sync'],
  look: (scene, limits) => {
    const seen = slipSeries(scene, limits);
    if (typeof seen === 'string') return { why: seen };
    const limit = limits['wheel-slip.departure'].value;
    const windows = windowsWhere(scene, {
      times: seen.times,
      holds: (i) => seen.departure[i] > limit + seen.doubt[i],
      shortest: Math.max(limits['wheel-slip.shortest'].value, 3 * (seen.times[1] - seen.times[0])),
      join: 0.1,
    });
    const top = largest(seen.departure);
    const features = [
      against(limits, 'wheel-slip.departure', top),
      informs('creep at the largest force', seen.creep, 'fraction'),
    ];
    if (windows.length === 0) return { features };
    const wheel = wheelKeepsToRoll(scene, windows);
    if (wheel === true) return { features };
    return {
      windows,
      features,
      strength: strengthOf(top / limit, 0.5, wheel === false ? 0.95 : 0.8) - (seen.relative ? 0.1 : 0),
      stopClass: 1,
      voids: 'power',
    };
  },
};
