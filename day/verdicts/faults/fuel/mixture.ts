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
import { type LambdaError, lambdaErrors } from '../../evidence/lambda.ts';
import { syncEvidence } from '../../evidence/sync.ts';
import { levelBetween, type PullScene, sceneTrack } from '../../scene/scene.ts';
import { largest, runningQuantile } from '../../scene/series.ts';
import type { Limits } from '../../thresholds.ts';

const NOT_SPARK =
  'an engine with compression ignition runs lean by nature; mixture limits of spark ignition do not apply';
const NO_TARGET = 'no lambda target, and lambda stays within the absolute limits';

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
    return outcome(found, {
      limits,
      departure: 'lean.departure',
      absolute: 'lean.absolute',
      stopClass: charged ? 2 : 1,
    });
  },
};

/** Mixture much richer than asked for, or at the end of what a sensor shows. @source common practice, no source */
export const richMixture: Detector = {
  fault: 'rich-mixture',
  subject: 'fuel',
  needs: ['lambda'],
  lookAlikes: ['ignition-breakup'],
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
  readonly targeted: boolean;
}

function judged(scene: PullScene, limits: Limits, rule: Rule): Judged {
  const cut = cutEvidence(scene, limits).windows;
  const lost = syncEvidence(scene).windows;
  const each = lambdaErrors(scene).map((one) => judgedOne(scene, { one, rule, limits, void: [...cut, ...lost] }));
  return {
    windows: each.flatMap(({ windows }) => windows).sort((a, b) => a.from - b.from),
    departure: largest(each.map(({ departure }) => departure)),
    extreme: rule.sign * largest(each.map(({ extreme }) => rule.sign * extreme)),
    targeted: each.some(({ targeted }) => targeted),
  };
}

function judgedOne(
  scene: PullScene,
  { one, rule, limits, void: without }: { one: LambdaError; rule: Rule; limits: Limits; void: readonly FaultWindow[] },
): Judged {
  const { times, targeted, track } = one;
  const use = (values: Float64Array): Float64Array =>
    runningQuantile(
      { times, values: values.map((value, i) => (within(without, times[i], 0.4) ? Number.NaN : value)) },
      0.3,
      rule.probability,
    );
  const error = use(one.error).map((value) => rule.sign * value);
  const value = use(one.value);
  const departs = (i: number): boolean => targeted && error[i] > limits[rule.departure].value + track.noise;
  // What was asked for is no fault: fuels differ. Without a target only the absolute limit is left.
  const beyond = (i: number): boolean => !targeted && rule.sign * (value[i] - rule.absolute) > track.noise;
  const windows = windowsWhere(scene, {
    times,
    holds: (i) => departs(i) || beyond(i),
    shortest: limits[rule.shortest].value,
    join: 0.2,
  });
  return {
    windows,
    departure: targeted ? largest(error) : Number.NaN,
    extreme: rule.sign * largest(value.map((v) => rule.sign * v)),
    targeted,
  };
}

interface Wording {
  readonly limits: Limits;
  readonly departure: 'lean.departure' | 'rich.departure';
  readonly absolute: 'lean.absolute' | 'rich.absolute';
  readonly stopClass: 1 | 2;
}

function outcome(found: Judged, { limits, departure, absolute, stopClass }: Wording) {
  const features: Feature[] = [
    against(limits, absolute, found.extreme),
    ...(found.targeted ? [against(limits, departure, found.departure)] : []),
  ];
  if (found.windows.length > 0) {
    const ratio = found.targeted ? found.departure / limits[departure].value : 1;
    return {
      windows: found.windows,
      features,
      strength: strengthOf(ratio, found.targeted ? 0.72 : 0.6),
      stopClass,
      voids: 'power',
    };
  }
  return found.targeted ? { features } : { why: NO_TARGET, missing: ['lambda-target'] as const };
}
