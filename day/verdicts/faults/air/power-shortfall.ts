import type { Meaning } from '../../../channels/index.ts';
import { against, type Detector, informs, strengthOf, windowOf } from '../../detector.ts';
import { whyNoPower } from '../../evidence/beside.ts';
import { overrunRise } from '../../evidence/overrun-rise.ts';
import { powerGap, powerScatter } from '../../evidence/power-gap.ts';
import { slipAbove } from '../../evidence/slip-beside.ts';
import type { PullScene } from '../../scene/scene.ts';
import type { Limits } from '../../thresholds.ts';
import { wrongScale } from '../sensors/wrong-scale.ts';

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
    if (isPressureWrong(scene, limits)) return { why: 'manifold pressure reads by a wrong scale' };
    // A larger step of pressure leaves more to the rule of thumb, whose own spread is about a tenth of what it explains.
    const repeats = powerScatter(scene, limits) * Math.sqrt(1 + 1 / gap.references);
    const limit =
      Math.max(limits['shortfall.share'].value, limits['shortfall.deviations'].value * repeats) + 0.1 * gap.explained;
    // What the driveline takes, by its drag or by slip, is not missing from the engine.
    const drag = draggedAway(scene) + slipAbove(scene, gap.speed[Math.floor(gap.speed.length / 2)]);
    const short = -gap.whole - drag;
    const features = [
      { ...against(limits, 'shortfall.share', short), threshold: limit },
      informs('shortfall in the lower third of speed', -gap.low, 'fraction'),
      informs('shortfall in the upper third of speed', -gap.high, 'fraction'),
      ...(drag > 0 ? [informs('taken by drag or slip of the driveline', drag, 'fraction')] : []),
    ];
    const throughout = Math.min(-gap.low, -gap.high) - drag > limit / 2;
    const part = PART * (Math.max(-gap.low, -gap.high) - drag);
    if (!(Math.max(short, part) > limit)) {
      return short > limits['shortfall.share'].value && gap.references > 0
        ? { why: `short by ${(100 * short).toFixed(1)} %, which pulls of this day scatter by: repeat the pull to tell` }
        : { features };
    }
    return {
      windows: [windowOf(scene, scene)],
      features,
      // A loss in one part of the speeds has a cause of its own there.
      strength: short > limit && throughout ? strengthOfShortfall(short / limit, gap.references) : LOCAL,
      stopClass: 2,
    };
  },
};

/** What power should be is told from manifold pressure: one that reads by a wrong scale tells nothing. */
function isPressureWrong(scene: PullScene, limits: Limits): boolean {
  const found = wrongScale.look(scene, limits);
  return 'channel' in found && scene.tracks.some(({ name, meaning }) => name === found.channel && meaning === PRESSURE);
}

const PRESSURE: Meaning = 'manifold-pressure';

/** Strength at the limit, what certainty adds to it and what size adds, with several references and with one, which may have been too good itself. @source our default */
const STRENGTH = {
  several: { least: 0.6, certain: 0.16, large: 0.14 },
  one: { least: 0.45, certain: 0.1, large: 0.1 },
} as const;
/** So many times the limit is certain: beyond four of its deviations. @source our default */
const CERTAIN = 1.4;

/** The limit is three deviations of the day's repeatability, or the trade's 2 %: a little more is certain, and from there on size counts. */
function strengthOfShortfall(ratio: number, references: number): number {
  const { least, certain, large } = references > 1 ? STRENGTH.several : STRENGTH.one;
  const sure = least + certain * Math.min(1, (ratio - 1) / (CERTAIN - 1));
  return ratio < CERTAIN ? sure : strengthOf(1 + ratio - CERTAIN, sure, sure + large);
}

/** A part of the speeds counts so much less than the whole; what it is worth alone. @source our default */
const PART = 0.6;
const LOCAL = 0.4;
/** Rise of the drag that is well beyond its own spread. @source our default */
const DEVIATIONS = 2.5;

/** Share of the drive that the drag after lift-off has risen by [1]; 0 where it has not or nobody knows. */
function draggedAway(scene: PullScene): number {
  const rise = overrunRise(scene);
  return typeof rise !== 'string' && rise.deviations > DEVIATIONS ? rise.share : 0;
}
