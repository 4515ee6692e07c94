import { against, type Detector, strengthOf, windowsWhere } from '../../detector.ts';
import { boostSeries } from '../../evidence/boost.ts';
import { sceneTrack } from '../../scene/scene.ts';
import { largest, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

/** After boost was first reached its control settles [s]. @source our default */
const SETTLES = 1.5;

/** Compressor at the end of its flow: manifold pressure falls although the wheel turns faster. @source signature: common practice, no source; shares: our default */
export const compressorChoke: Detector = {
  fault: 'compressor-choke',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'turbo-speed'],
  lookAlikes: ['boost-droop', 'boost-leak', 'exhaust-restriction'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    const turbo = sceneTrack(scene, 'turbo-speed');
    if (!boost || !turbo || !Number.isFinite(boost.risen)) return { why: 'boost was never reached in this pull' };
    const { times, target } = boost;
    const asked = target ? boost.pressure.map((value, i) => value / target[i]) : boost.pressure;
    const pressure = smooth({ times, values: asked }, 0.8);
    const speed = smooth({ times, values: onTimes(turbo, times) }, 0.8);
    const crest = { at: -1, pressure: 0 };
    for (let i = 0; i < times.length; i++) {
      if (
        times[i] >= (Number.isFinite(boost.reached) ? boost.reached : boost.risen) + SETTLES &&
        pressure[i] > crest.pressure
      )
        Object.assign(crest, { at: i, pressure: pressure[i] });
    }
    if (crest.at < 0) return { features: [] };
    const fallen = pressure.map((value, i) =>
      i > crest.at ? 1 - value / (target ? Math.min(1, crest.pressure) : crest.pressure) : 0,
    );
    const risen = speed.map((value, i) => (i > crest.at ? value / speed[crest.at] - 1 : 0));
    const [falls, rises] = [limits['choke.pressure-falls'].value, limits['choke.speed-rises'].value];
    const windows = windowsWhere(scene, {
      times,
      holds: (i) => fallen[i] > falls && risen[i] > rises,
      shortest: 0.4,
      join: 0.2,
    });
    const features = [
      against(limits, 'choke.pressure-falls', largest(fallen)),
      against(limits, 'choke.speed-rises', largest(risen.filter((_, i) => fallen[i] > falls))),
    ].filter(({ value }) => Number.isFinite(value));
    if (windows.length === 0) return { features };
    return {
      windows,
      features,
      strength: strengthOf(largest(fallen) / falls, 0.5, 0.8) + (target ? 0.05 : -0.15),
      stopClass: 2,
    };
  },
};
