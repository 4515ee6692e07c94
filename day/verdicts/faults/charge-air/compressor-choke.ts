import {
  against,
  type Detector,
  type Feature,
  informs,
  type Seen,
  strengthOf,
  type Unseen,
  windowOf,
  windowsWhere,
} from '../../detector.ts';
import { boostSeries } from '../../evidence/boost.ts';
import { type CompressorLack, compressorFails, compressorLack } from '../../evidence/compressor.ts';
import { gridOf, type PullScene, sceneTrack, speedsAt } from '../../scene/scene.ts';
import { largest, smooth } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';
import type { Limits } from '../../thresholds.ts';

/** After boost was first reached its control settles [s]. @source our default */
const SETTLES = 1.5;
/** Where the flow is small it still does what it usually does: of what the wheel lacks at the top so much at most [1]. @source our default: what comes on with the flow leaves up to a half at half of it, a leak lets out as much at any speed */
const BELOW = 0.6;
/**
 * Compressor at the end of its flow: where the flow is largest the pressure is short of what the day's other pulls had, and yet the wheel turns no slower for it.
 * Without other pulls: manifold pressure falls although the wheel turns faster.
 *
 * @source signature: common practice, no source; shares: our default; similarity: work per kilogram goes as the square of the rim speed
 */
export const compressorChoke: Detector = {
  fault: 'compressor-choke',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'turbo-speed'],
  lookAlikes: ['boost-droop', 'boost-leak', 'exhaust-restriction'],
  look: (scene, limits) => {
    const beside = compressorLack(scene);
    if (beside) return againstOthers(scene, limits, beside);
    const boost = boostSeries(scene);
    if (!boost || !Number.isFinite(boost.risen)) return { why: 'boost was never reached in this pull' };
    return withinPull(scene, limits, boost);
  },
};

function againstOthers(scene: PullScene, limits: Limits, lack: CompressorLack): Seen | Unseen {
  const { short, slack, slackBelow, turns, from } = lack;
  const [falls, rises] = [limits['choke.pressure-falls'].value, limits['choke.speed-rises'].value];
  const features: readonly Feature[] = [
    against(limits, 'choke.pressure-falls', short),
    against(limits, 'choke.speed-rises', slack),
    informs('the same at low engine speeds', slackBelow, 'fraction'),
    informs('wheel speed over the usual one', turns, 'ratio'),
  ];
  if (!(short > falls && compressorFails(lack, rises) && slackBelow < BELOW * slack)) return { features };
  const times = gridOf(scene, 50);
  const speeds = speedsAt(scene, times);
  const begins = times.find((_, i) => speeds[i] >= from) ?? scene.from;
  return {
    windows: [windowOf(scene, { from: begins, to: scene.to })],
    features,
    strength: strengthOf(Math.min(short / falls, slack / rises), 0.75, 0.92),
    stopClass: 2,
  };
}

function withinPull(
  scene: PullScene,
  limits: Limits,
  boost: NonNullable<ReturnType<typeof boostSeries>>,
): Seen | Unseen {
  const turbo = sceneTrack(scene, 'turbo-speed');
  if (!turbo) return { features: [] };
  const { times, target } = boost;
  const asked = target ? boost.pressure.map((value, i) => value / target[i]) : boost.pressure;
  const pressure = smooth({ times, values: asked }, 0.8);
  const speed = smooth({ times, values: onTimes(turbo, times) }, 0.8);
  const since = (Number.isFinite(boost.reached) ? boost.reached : boost.risen) + SETTLES;
  const crest = { at: -1, pressure: 0 };
  for (let i = 0; i < times.length; i++) {
    if (times[i] >= since && pressure[i] > crest.pressure) Object.assign(crest, { at: i, pressure: pressure[i] });
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
  const strength = strengthOf(largest(fallen) / falls, 0.5, 0.8) + (target ? 0.05 : -0.15);
  return { windows, features, strength, stopClass: 2 };
}
