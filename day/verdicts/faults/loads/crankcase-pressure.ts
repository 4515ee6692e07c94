import { against, type Detector, strengthOf, windowOf } from '../../detector.ts';
import { trackBySpeed } from '../../evidence/by-speed.ts';
import { held, nearPressure } from '../../evidence/references.ts';
import { sceneTrack } from '../../scene/scene.ts';
import { largest, middle } from '../../scene/series.ts';

/** So many of the pulls that may be compared with, the earliest. @source our default */
const EARLIEST = 2;
/** The reference must read at least this for `doubled` to mean anything [Pa]. @source our default */
const MEANINGFUL = 500;

/** Crankcase pressure above that of the day's other pulls at equal engine speed and manifold pressure. @source limits: common practice, no source */
export const crankcasePressure: Detector = {
  fault: 'crankcase-pressure',
  subject: 'loads',
  needs: ['crankcase-pressure'],
  lookAlikes: [],
  look: (scene, limits) => {
    const track = sceneTrack(scene, 'crankcase-pressure');
    // Rings give way over several pulls: the earliest say what was usual, not those in which it had begun.
    const others = nearPressure(scene, limits, ['crankcase-pressure', 'wrong-scale'])
      .slice(-EARLIEST)
      .flatMap((other) => {
        const same = sceneTrack(other, 'crankcase-pressure');
        return same ? [trackBySpeed(other, same)] : [];
      });
    const compared = track && held(trackBySpeed(scene, track), others);
    if (!compared) return { why: 'no other pull at the same manifold pressure to compare crankcase pressure with' };
    // Blow-by grows with the load: the third of the speeds where it is largest counts.
    const third = Math.max(2, Math.floor(compared.here.length / 3));
    const thirds = [0, third, 2 * third].map((at) =>
      middle(compared.here.slice(at, at + third).map((value, i) => value - compared.there[at + i])),
    );
    const rise = largest(thirds);
    const usual = middle(compared.there);
    const times = usual > MEANINGFUL ? middle(compared.here) / usual : Number.NaN;
    const limit = limits['crankcase.rise'].value;
    const features = [
      against(limits, 'crankcase.rise', rise),
      ...(Number.isFinite(times) ? [against(limits, 'crankcase.times', times)] : []),
    ];
    if (!(rise > limit || times > limits['crankcase.times'].value)) return { features };
    return { windows: [windowOf(scene, scene)], features, strength: strengthOf(rise / limit, 0.72), stopClass: 2 };
  },
};
