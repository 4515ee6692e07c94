import {
  against,
  type Detector,
  type FaultWindow,
  type Feature,
  strengthOf,
  windowsWhere,
  within,
} from '../../detector.ts';
import { cutEvidence } from '../../evidence/cut.ts';
import { driveForce } from '../../evidence/drive.ts';
import { longestHold } from '../../evidence/holds.ts';
import { type LambdaError, lambdaErrors, SETTLES } from '../../evidence/lambda.ts';
import { mixtureLoss } from '../../evidence/mixture-loss.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, middle, runningQuantile } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

const NOT_SPARK =
  'an engine with compression ignition runs lean by nature; mixture limits of spark ignition do not apply';
const NO_TARGET = 'no lambda target and no earlier pull, and lambda stays within the absolute limits';

/** Mixture leaner than asked for, or leaner than any boosted spark-ignition engine should be, and staying there. @source common practice, no source */
export const leanMixture: Detector = {
  fault: 'lean-mixture',
  subject: 'fuel',
  needs: ['lambda'],
  lookAlikes: ['ignition-breakup', 'fuel-pressure-drop', 'injector-saturation'],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: NOT_SPARK };
    const pressure = sceneTrack(scene, 'manifold-pressure');
    const charged =
      pressure !== undefined && levelBetween(pressure, scene.from + 1, scene.to) > limits['lean.above-pressure'].value;
    // Gases with a larger need for air burn well at mixtures that are lean for petrol.
    const ratio = scene.facts.engine.stoichiometricRatio?.value ?? 0;
    const petrol = ratio < limits['lean.absolute-below-ratio'].value;
    const absolute = charged && petrol ? limits['lean.absolute'].value : Number.POSITIVE_INFINITY;
    // A lower quartile stays with the target while misfires throw single spikes.
    const found = judged(scene, limits, {
      probability: 0.25,
      sign: 1,
      departure: 'lean.departure',
      absolute,
      shortest: 'lean.shortest',
    });
    const burnt = found.windows.filter((window) => !isUnburnt(scene, window, found));
    return outcome(
      { ...found, windows: burnt },
      {
        limits,
        departure: 'lean.departure',
        absolute: 'lean.absolute',
        stopClass: charged ? 2 : 1,
      },
    );
  },
};

/** The drive is looked at for so long on either side of where lambda leans, so far from it [s]: lambda tells a little late. @source our default */
const BESIDE = { seconds: 0.5, before: 0.5, behind: 0.1 } as const;
/** A fall of the drive by so much within a second is sudden, and by so many times what the mixture takes is not the mixture's [1]. @source our default */
const SUDDEN = { fall: 0.06, times: 3 } as const;

/** True where the drive broke off just before by far more than this mixture takes: charge that does not burn reads lean, and is no want of fuel. */
function isUnburnt(scene: PullScene, { from }: FaultWindow, { departure, extreme }: Judged): boolean {
  const drive = driveForce(scene);
  if (!drive || !Number.isFinite(departure)) return false;
  const mean = (start: number): number =>
    middle(drive.values.filter((_, i) => drive.times[i] >= start && drive.times[i] <= start + BESIDE.seconds));
  const fall = 1 - mean(from + BESIDE.behind) / mean(from - BESIDE.before - BESIDE.seconds);
  return fall > SUDDEN.fall && fall > SUDDEN.times * mixtureLoss({ here: extreme, there: extreme - departure });
}

/** Mixture much richer than asked for, or at the end of what a sensor shows. @source common practice, no source */
export const richMixture: Detector = {
  fault: 'rich-mixture',
  subject: 'fuel',
  needs: ['lambda'],
  lookAlikes: ['ignition-breakup', 'boost-droop'],
  look: (scene, limits) => {
    if (scene.facts.engine.ignition === 'compression') return { why: NOT_SPARK };
    const absolute = limits['rich.absolute'].value;
    const found = judged(scene, limits, {
      probability: 0.75,
      sign: -1,
      departure: 'rich.departure',
      absolute,
      shortest: 'rich.shortest',
    });
    return outcome(found, { limits, departure: 'rich.departure', absolute: 'rich.absolute', stopClass: 1 });
  },
};

interface Rule {
  /** Quantile of the values within ±0.3 s that must be beyond the limit. */
  readonly probability: number;
  readonly sign: 1 | -1;
  readonly departure: 'lean.departure' | 'rich.departure';
  readonly absolute: number;
  readonly shortest: 'lean.shortest' | 'rich.shortest';
}

interface Judged {
  readonly windows: readonly FaultWindow[];
  /** Largest departure from the target in the sense of the rule [1]; NaN without a target. */
  readonly departure: number;
  readonly extreme: number;
  /** How far the absolute limit is passed [1]; NaN where a target counts instead. */
  readonly beyond: number;
  /** How surely it is known what lambda should be. */
  readonly known: Known;
}

type Known = 'target' | 'earlier pulls' | 'one earlier pull' | 'nothing';
/** Strength at the limit, by what lambda was held against. @source our default */
const LEAST: Readonly<Record<Known, number>> = {
  target: 0.76,
  'earlier pulls': 0.72,
  'one earlier pull': 0.6,
  nothing: 0.65,
};
const KNOWN: readonly Known[] = ['target', 'earlier pulls', 'one earlier pull', 'nothing'];

function judged(scene: PullScene, limits: Limits, rule: Rule): Judged {
  const cut = cutEvidence(scene, limits).windows;
  const lost = syncEvidence(scene).windows;
  const each = lambdaErrors(scene).map((one) => judgedOne(scene, { one, rule, limits, void: [...cut, ...lost] }));
  return {
    windows: each.flatMap(({ windows }) => windows).sort((a, b) => a.from - b.from),
    departure: largest(each.map(({ departure }) => departure)),
    extreme: rule.sign * largest(each.map(({ extreme }) => rule.sign * extreme)),
    beyond: largest(each.map(({ beyond }) => beyond)),
    known: KNOWN.find((one) => each.some(({ known }) => known === one)) ?? 'nothing',
  };
}

function judgedOne(
  scene: PullScene,
  { one, rule, limits, void: without }: { one: LambdaError; rule: Rule; limits: Limits; void: readonly FaultWindow[] },
): Judged {
  const { times, targeted, earlier, track } = one;
  const ends = endOfScale(scene, limits, { track, sign: rule.sign });
  const use = (values: Float64Array): Float64Array =>
    runningQuantile(
      {
        times,
        values: values.map((value, i) =>
          within(without, times[i], 0.4) || within(ends, times[i]) ? Number.NaN : value,
        ),
      },
      0.3,
      rule.probability,
    );
  const error = use(one.error).map((value) => rule.sign * value);
  const value = use(one.value);
  const compared = targeted || earlier > 0;
  const departs = (i: number): boolean => compared && error[i] > limits[rule.departure].value + track.noise;
  // What was asked for is no fault: fuels differ. Without a target the absolute limit is left.
  const beyond = (i: number): boolean => !targeted && rule.sign * (value[i] - rule.absolute) > track.noise;
  const windows = windowsWhere(scene, {
    times,
    holds: (i) => departs(i) || beyond(i),
    shortest: limits[rule.shortest].value,
    join: 0.2,
  });
  return {
    windows,
    departure: compared ? largest(error) : Number.NaN,
    extreme: rule.sign * largest(value.map((v) => rule.sign * v)),
    beyond: targeted ? Number.NaN : largest(value.map((v) => rule.sign * (v - rule.absolute))),
    known: targeted ? 'target' : earlier > 1 ? 'earlier pulls' : earlier === 1 ? 'one earlier pull' : 'nothing',
  };
}

/** A lambda that keeps one value for so long is at an end of its scale [s]. @source our default */
const FLAT = 0.25;

/**
 * Where lambda rests at the other end of its scale: a sensor that cannot show a richer mixture reads too lean there, and says nothing against the rule. At
 * the end that the rule looks towards the mixture is at least as far out as it reads.
 */
function endOfScale(
  scene: PullScene,
  limits: Limits,
  { track, sign }: { readonly track: LambdaError['track']; readonly sign: Rule['sign'] },
): readonly Span[] {
  const hold = longestHold(scene, track);
  if (!hold || !(hold.to - hold.from > FLAT && hold.chance < limits['stuck.chance'].value)) return [];
  const inside = track.raw.filter((_, i) => track.times[i] >= scene.from + SETTLES && track.times[i] <= scene.to);
  const further = inside.some((value) => sign * (hold.value - value) > 0);
  return further ? [] : [{ from: scene.from, to: scene.to }];
}

interface Span {
  readonly from: number;
  readonly to: number;
}

interface Wording {
  readonly limits: Limits;
  readonly departure: 'lean.departure' | 'rich.departure';
  readonly absolute: 'lean.absolute' | 'rich.absolute';
  readonly stopClass: 1 | 2;
}

function outcome(found: Judged, { limits, departure, absolute, stopClass }: Wording) {
  const compared = found.known !== 'nothing';
  const features: Feature[] = [
    against(limits, absolute, found.extreme),
    ...(compared ? [against(limits, departure, found.departure)] : []),
  ];
  if (found.windows.length === 0)
    return compared ? { features } : { why: NO_TARGET, missing: ['lambda-target'] as const };
  const limit = limits[departure].value;
  const [departs, over] = [found.departure / limit, 1 + found.beyond / limit];
  const ratio = largest([departs, over]);
  return {
    windows: found.windows,
    features,
    strength: strengthOf(ratio, LEAST[found.known]),
    stopClass,
    voids: 'power',
  } as const;
}
