import { against, type Detector, informs, strengthOf, type Untold, windowsWhere, within } from '../../detector.ts';
import { besideState } from '../../evidence/beside.ts';
import { boostSeries } from '../../evidence/boost.ts';
import { boostExcess } from '../../evidence/boost-swings.ts';
import { kept } from '../../scene/memory.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';
import { surge } from './surge.ts';

/** How long after the target was first reached it may come [s]. What stays longer, or comes later, is another fault's. @source our default */
const SOON = 2.5;
/** Smoothing [Hz], and where the noise would make much of a peak at the first: a short peak loses some of its height, noise most of it. @source our default */
const BANDWIDTHS = [8, 4] as const;
/** Noise that is left may be so much of the limit [1]. @source our default */
const QUIET = 0.06;
/** It must come back to this share of its peak: what stays is creep, or a scale that is wrong [1]. @source our default */
const RETURNS = 0.6;
/** Against what the day's other pulls overshoot: this share of the limit is enough when so much of it is new [1]. @source our default */
const BESIDE = { share: 0.72, beyond: 0.28 } as const;
/** Noise that is left after smoothing may make so many deviations of a peak. @source our default */
const NOISES = 3;
/** The peak is as wide as it is above this share of the limit. @source our default */
const FOOT = 0.55;
/** From this rate on a peak of 0.1 s cannot fall between readings [Hz]. @source our default */
const CATCHES = 15;
/** Pulls that say how far the control usually overshoots. @source our default */
const USUAL = 5;

/** Manifold pressure well above its target after it has first been reached, and back again. @source common practice, no source */
export const boostOvershoot: Detector = {
  fault: 'boost-overshoot',
  subject: 'charge-air',
  needs: ['manifold-pressure', 'manifold-target'],
  lookAlikes: ['boost-oscillation', 'boost-creep'],
  look: (scene, limits) => {
    const peak = peakOf(scene, limits);
    if (!peak) return { why: 'missing manifold-target', missing: ['manifold-target'] };
    const others = besideState(scene, ['boost-overshoot', 'boost-oscillation', 'wrong-scale'])
      .slice(0, USUAL)
      .flatMap((other) => peakOf(other, limits)?.top ?? []);
    const usual = others.length > 0 ? Math.max(0, ...others) : Number.NaN;
    const full = limits['boost-overshoot.pressure'].value;
    const isNew = peak.top - usual > Math.max(BESIDE.beyond * full, NOISES * peak.noise);
    const limit = Math.max(isNew ? BESIDE.share * full : full, NOISES * peak.noise);
    const features = [
      { ...against(limits, 'boost-overshoot.pressure', Math.max(0, peak.top)), threshold: limit },
      ...(Number.isFinite(usual) ? [informs('in the other pulls', usual, 'pressure-difference')] : []),
    ];
    const windows = windowsWhere(scene, {
      times: peak.times,
      holds: (i) => peak.excess[i] > FOOT * limit && peak.times[i] < peak.reached + SOON,
      shortest: limits['boost-overshoot.shortest'].value,
      join: 0.1,
    });
    const high = windows.filter(({ from, to }) => peak.at >= from && peak.at <= to);
    if (high.length === 0 || !(peak.top > limit && peak.after < Math.min(RETURNS * peak.top, full)))
      return peak.rate < CATCHES ? tooSlow(peak) : { features };
    if (isSurging(scene, limits, peak.at) || isGlitch(scene, peak)) return { features };
    return { windows: high, features, strength: strengthOf(peak.top / limit, isNew ? 0.72 : 0.6), stopClass: 1 };
  },
};

/** Boost that stands this far over its target [1] and is gone again within that time [s] is a reading gone astray: no manifold fills and empties so fast. @source our default */
const ASTRAY = { share: 0.3, seconds: 0.35 } as const;

function isGlitch(scene: PullScene, { times, excess, top, at }: Peak): boolean {
  const target = sceneTrack(scene, 'manifold-target');
  if (!target || top < ASTRAY.share * levelBetween(target, at - 1, at + 1)) return false;
  const half = times.filter((time, i) => excess[i] > top / 2 && Math.abs(time - at) < 1);
  return half[half.length - 1] - half[0] < ASTRAY.seconds;
}

/** A peak of surging air is no work of the control. */
function isSurging(scene: PullScene, limits: Limits, at: number): boolean {
  const found = surge.look(scene, limits);
  return 'windows' in found && within(found.windows, at, 0);
}

function tooSlow({ rate }: Peak): Untold {
  return {
    why: `manifold pressure is renewed ${rate.toFixed(0)} times a second: a short overshoot falls between readings`,
  };
}

/** The largest excess, and when [s], soon after the target was reached and the least that follows it, smoothed [Pa]; noise: what smoothing leaves of it [Pa]. */
interface Peak {
  readonly times: Float64Array;
  readonly excess: Float64Array;
  readonly reached: number;
  readonly top: number;
  readonly at: number;
  readonly after: number;
  readonly noise: number;
  /** [Hz] */
  readonly rate: number;
}

/** undefined without a target. */
const peakOf: (scene: PullScene, limits: Limits) => Peak | undefined = kept((scene, limits) => {
  const boost = boostSeries(scene);
  if (!boost?.target) return undefined;
  const { times, reached, rate, noise } = boost;
  const leftAt = (bandwidth: number): number =>
    noise * Math.sqrt(Math.min(1, (2 * Math.min(bandwidth, rate / 5)) / rate));
  const [quick, slow] = BANDWIDTHS;
  const bandwidth = leftAt(quick) < QUIET * limits['boost-overshoot.pressure'].value ? quick : slow;
  const excess = boostExcess(scene, boost, bandwidth);
  const top = largest(excess.filter((_, i) => times[i] < reached + SOON));
  const at = excess.indexOf(top);
  const after = -largest(excess.map((value, i) => (i > at && times[i] < times[at] + SOON ? -value : Number.NaN)));
  return { times, excess, reached, top, at: times[at] ?? Number.NaN, after, noise: leftAt(bandwidth), rate };
});
