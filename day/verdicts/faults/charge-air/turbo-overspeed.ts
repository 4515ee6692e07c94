import { against, type Detector, strengthOf, windowsWhere } from '../../detector.ts';
import { fullLoadEnd } from '../../evidence/full-load.ts';
import { gridOf, sceneTrack } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** How long the wheel must be near its limit, and above it [s]. @source our default */
const LASTING = 0.2;
const AT_ONCE = 0.05;

/** The wheel turns on for a moment after the load is taken away [s]. @source our default */
const AFTER = 0.3;

/** Turbo speed near or above the wheel's limit, which somebody has to state. @source shares: common practice, no source */
export const turboOverspeed: Detector = {
  fault: 'turbo-overspeed',
  subject: 'charge-air',
  needs: ['turbo-speed'],
  lookAlikes: [],
  look: (scene, limits) => {
    const set = limits['turbo.limit'].value;
    const limit = set > 0 ? set : (scene.facts.engine.turboSpeedLimit?.value ?? Number.NaN);
    if (!(limit > 0)) return { why: 'the speed limit of the turbocharger is not stated' };
    const track = sceneTrack(scene, 'turbo-speed');
    if (!track) return { why: 'missing turbo-speed', missing: ['turbo-speed'] };
    // A gap of the log cuts a pull in two and hides no danger.
    const times = gridOf(scene, Math.min(50, track.rate), { from: scene.from, to: fullLoadEnd(scene) + AFTER });
    const share = runningQuantile({ times, values: onTimes(track, times).map((value) => value / limit) }, 0.06, 0.5);
    const near = limits['turbo.hold-share'].value;
    const top = largest(share);
    const stop = limits['turbo.stop-share'].value;
    const shortest = top > stop ? AT_ONCE : LASTING;
    const windows = windowsWhere(scene, { times, holds: (i) => share[i] > near, shortest, join: 0.2 });
    const features = [against(limits, 'turbo.hold-share', top), against(limits, 'turbo.stop-share', top)];
    if (windows.length === 0) return { features };
    return {
      windows,
      features,
      strength: strengthOf(1 + (top - near) / 0.02, 0.8),
      stopClass: top > stop ? 3 : 2,
    };
  },
};
