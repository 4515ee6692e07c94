import { against, type Detector, informs, windowOf } from '../../detector.ts';
import { whyNoPower } from '../../evidence/beside.ts';
import { overrunRise } from '../../evidence/overrun-rise.ts';
import { powerGap, powerScatter } from '../../evidence/power-gap.ts';
import { slipAbove } from '../../evidence/slip-beside.ts';
import type { PullScene } from '../../scene/scene.ts';
import { readsWrong } from '../sensors/wrong-scale.ts';

/**
 * Power short of what the day's other pulls would make at this manifold pressure and charge temperature: the summary sign, no cause.
 *
 * @source sensitivities: simple engine model near 200 kPa; limit: our default, two and a half times an ordinary repeatability of 0.7 %
 */
export const powerShortfall: Detector = {
  fault: 'power-shortfall',
  subject: 'air',
  needs: ['manifold-pressure', 'engine-speed'],
  lookAlikes: ['driveline-loss-rising', 'head-lift', 'ignition-breakup', 'charge-heat-soak', 'knock'],
  look: (scene, limits) => {
    const gap = powerGap(scene, limits, 'any');
    if (!gap) return { why: whyNoPower(scene) };
    // What power should be is told from manifold pressure.
    if (readsWrong(scene, limits, 'manifold-pressure')) return { why: 'manifold pressure reads by a wrong scale' };
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
      // Once and hardly beyond scatter asks for a repeat; when the repeat is short as well, the day's health holds.
      stopClass: Math.max(short, part) > limits['shortfall.hold'].value * limit ? 2 : 1,
    };
  },
};

/** Strength at the limit, what is added up to `CERTAIN` times it, and what each further time the limit adds up to `most`, with several references and with one, which may have been too good itself. @source our default */
const STRENGTH = {
  several: { least: 0.6, doubtful: 0.09, each: 0.23, most: 0.95 },
  one: { least: 0.45, doubtful: 0.1, each: 0.15, most: 0.65 },
} as const;
/** Up to so many times the limit pulls that scatter still do it now and then: among thousands of pulls there are some at four deviations. @source our default: four and a half of its deviations */
const CERTAIN = 1.8;

/** The limit is two and a half deviations of the day's repeatability, or the trade's 2 %: nearly twice as much may still be scatter, from there on size counts. */
function strengthOfShortfall(ratio: number, references: number): number {
  const { least, doubtful, each, most } = references > 1 ? STRENGTH.several : STRENGTH.one;
  const start = least + doubtful * Math.min(1, (ratio - 1) / (CERTAIN - 1));
  return Math.min(most, start + each * Math.max(0, ratio - CERTAIN));
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
