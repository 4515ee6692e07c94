import { against, type Detector, informs, strengthOf, windowOf, windowsWhere } from '../../detector.ts';
import { type BoostSeries, boostSeries } from '../../evidence/boost.ts';
import { type PullScene, sceneTrack } from '../../scene/scene.ts';
import { band, finite, largest, middle, smooth, steadySwings, swingsOf } from '../../scene/series.ts';
import { onTimes } from '../../scene/track.ts';

const NO_TARGET = { why: 'missing manifold-target', missing: ['manifold-target'] } as const;
const NO_BOOST = { why: 'manifold pressure has no values in this pull', missing: ['manifold-pressure'] } as const;

/** Swings count from this many standard deviations of what the channel's noise leaves in their band. @source our default */
const NOISES = 4;

/** Manifold pressure well above its target after it has first been reached. @source common practice, no source */
export const boostOvershoot: Detector = {
  fault: 'boost-overshoot',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-oscillation', 'boost-creep'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost?.target) return NO_TARGET;
    const { times, reached } = boost;
    const excess = excessOf(boost, 4);
    const limit = limits['boost-overshoot.pressure'].value;
    // What still swings or stays long after the target was reached is another fault's.
    const holds = (i: number): boolean => excess[i] > limit && times[i] < reached + 2.5;
    const windows = windowsWhere(scene, {
      times,
      holds,
      shortest: limits['boost-overshoot.shortest'].value,
      join: 0.1,
    });
    const top = largest(excess.filter((_, i) => times[i] < reached + 2.5));
    const features = [against(limits, 'boost-overshoot.pressure', Math.max(0, top))];
    return windows.length > 0
      ? { windows, features, strength: strengthOf(top / limit, 0.6), stopClass: 1 }
      : { features };
  },
};

/** Manifold pressure swinging steadily at 0.5–5 Hz. @source common practice, no source */
export const boostOscillation: Detector = {
  fault: 'boost-oscillation',
  subject: 'charge-air',
  needs: ['manifold-pressure'],
  lookAlikes: ['surge', 'boost-overshoot', 'ignition-breakup'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost) return NO_BOOST;
    const { times, reached, rate } = boost;
    if (rate < 10)
      return { why: `manifold pressure is renewed ${rate.toFixed(1)} times a second, too slowly for 0.5–5 Hz` };
    const deviation = boost.pressure.map((value, i) =>
      times[i] < reached ? Number.NaN : value - (boost.target?.[i] ?? 0),
    );
    const swings = band({ times, values: deviation }, 0.35, Math.min(6, rate / 5));
    const floor = NOISES * boost.noise * Math.sqrt(Math.min(1, (2 * Math.min(6, rate / 5)) / rate));
    const limit = Math.max(limits['boost-oscillation.amplitude'].value, floor);
    const run = steadySwings(swingsOf({ times, values: swings }), limit);
    const hertz = run.length > 1 ? (run.length - 1) / (2 * (run[run.length - 1].time - run[0].time)) : Number.NaN;
    const size = middle(run.map((swing) => Math.abs(swing.size)));
    const features = [
      against(limits, 'boost-oscillation.half-swings', run.length),
      against(limits, 'boost-oscillation.amplitude', run.length > 0 ? size : Math.max(0, largest(swings))),
    ];
    if (run.length < limits['boost-oscillation.half-swings'].value || !(hertz >= 0.4 && hertz <= 5.5))
      return { features };
    return {
      windows: [windowOf(scene, { from: run[0].time, to: run[run.length - 1].time })],
      features: [...features, informs('frequency', hertz, 'frequency')],
      strength: strengthOf(size / limit, 0.6),
      stopClass: 1,
    };
  },
};

/** Manifold pressure falling away from its target with the wastegate at its end. @source common practice, no source; share: our default */
export const boostDroop: Detector = {
  fault: 'boost-droop',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-leak', 'compressor-choke', 'exhaust-restriction'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost?.target) return NO_TARGET;
    const { times, reached } = boost;
    const short = excessOf(boost, 2).map((value, i) => -value / (boost.target?.[i] ?? Number.NaN));
    const limit = limits['boost-droop.share'].value;
    const windows = windowsWhere(scene, {
      times,
      holds: (i) => times[i] > reached + 0.3 && short[i] > limit,
      shortest: limits['boost-droop.shortest'].value,
      join: 0.2,
    });
    const top = largest(short.filter((_, i) => times[i] > reached + 0.3));
    const features = [against(limits, 'boost-droop.share', Math.max(0, top))];
    const steady = windows.filter((window) => targetHolds(boost, window));
    if (steady.length === 0) return { features };
    return {
      windows: steady,
      features,
      strength: strengthOf(top / limit, atItsEnd(scene, steady) ? 0.6 : 0.4, 0.85),
      stopClass: 1,
    };
  },
};

/** Manifold pressure climbing above its target and staying there: a wastegate that flows too little. @source common practice, no source */
export const boostCreep: Detector = {
  fault: 'boost-creep',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-overshoot'],
  look: (scene, limits) => {
    const boost = boostSeries(scene);
    if (!boost?.target) return NO_TARGET;
    const { times, reached } = boost;
    const above = excessOf(boost, 1).map((value, i) => value / (boost.target?.[i] ?? Number.NaN));
    const limit = limits['boost-creep.share'].value;
    const windows = windowsWhere(scene, {
      times,
      holds: (i) => times[i] > reached + 2.5 && above[i] > limit,
      shortest: limits['boost-creep.shortest'].value,
      join: 0.2,
    }).filter((window) => targetHolds(boost, window));
    const top = largest(above.filter((_, i) => times[i] > reached + 2.5));
    const features = [against(limits, 'boost-creep.share', Math.max(0, top))];
    if (windows.length === 0) return { features };
    return { windows, features, strength: strengthOf(top / limit, 0.5, 0.85), stopClass: 1 };
  },
};

function excessOf({ times, pressure, target, rate }: BoostSeries, bandwidth: number): Float64Array {
  return smooth(
    { times, values: pressure.map((value, i) => value - (target?.[i] ?? Number.NaN)) },
    Math.min(bandwidth, rate / 5),
  );
}

/** A target that itself moves by more than 5 % within the window is being followed, not missed. @source our default */
function targetHolds({ times, target }: BoostSeries, { from, to }: { from: number; to: number }): boolean {
  const inside = finite((target ?? new Float64Array(0)).filter((_, i) => times[i] >= from - 0.3 && times[i] <= to));
  return Math.max(...inside) < 1.05 * Math.min(...inside);
}

/** Wastegate duty or position at one end of what it did in this pull; false when not logged. */
function atItsEnd(scene: PullScene, windows: readonly { readonly from: number; readonly to: number }[]): boolean {
  const gate = sceneTrack(scene, 'wastegate-duty') ?? sceneTrack(scene, 'wastegate-position');
  if (!gate) return false;
  const at = Float64Array.from(
    { length: 21 },
    (_, k) => windows[0].from + ((windows[0].to - windows[0].from) * k) / 20,
  );
  const value = middle(onTimes(gate, at));
  return value > 0.93 || value < 0.07;
}
