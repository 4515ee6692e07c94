import type { EntryFacts, PullResult } from '../../../day/pulls/index.ts';
import type {
  Detection,
  Fault,
  FaultWindow,
  Hypothesis,
  Occurrence,
  PullVerdict,
  Separation,
} from '../../../day/verdicts/index.ts';

const RPM = Math.PI / 30;
const WINDOW: FaultWindow = { from: 8.4, to: 9.6, lowSpeed: 5340 * RPM, highSpeed: 5860 * RPM };
const PRACTICE = 'common practice, no source';

/** The invented verdict of one invented pull: what was seen, what a person overruled, what could not be looked for. */
export function smallVerdict(
  { id, overruled = {} }: Pick<EntryFacts, 'id' | 'overruled'>,
  pull: PullResult,
  roughness = 0.02,
): PullVerdict {
  const found = (OCCURRENCES[id] ?? []).filter(
    ({ hypotheses }) => hypotheses[0]?.fault !== BREAKUP || roughness < 0.09,
  );
  const occurrences = found.map((one): Occurrence => {
    const why = overruled[one.hypotheses[0]?.fault ?? ''];
    return why === undefined ? one : { ...one, overruled: why };
  });
  const counted = occurrences.filter((one) => one.overruled === undefined);
  const voids = counted.filter((one) => one.voids === 'power').flatMap(({ windows }) => windows);
  return {
    entry: id,
    index: 0,
    validity: voids.length > 0 ? 'valid in windows' : 'valid',
    voidWindows: voids,
    stopClass: counted.map(({ stopClass }) => stopClass).sort((one, other) => other - one)[0] ?? 0,
    occurrences,
    detections: [
      ...found.flatMap(({ hypotheses }) => hypotheses.map(({ detection }) => detection)),
      ...UNSEEN,
      ...UNTOLD,
    ],
    pull,
  };
}

const BREAKUP: Fault = 'ignition-breakup';

function detection(fault: Fault, more: Partial<Detection>): Detection {
  const nothing = { windows: [], features: [], strength: 0, stopClass: 0, voids: 'nothing' } as const;
  return { fault, subject: 'spark', answer: 'not seen', lookAlikes: [], needs: [], missing: [], ...nothing, ...more };
}

const UNSEEN = [
  detection('boost-oscillation', {
    features: [
      {
        name: 'boost-oscillation.amplitude',
        value: 1.1e3,
        threshold: 3e3,
        kind: 'pressure-difference',
        source: PRACTICE,
      },
    ],
  }),
  detection('clutch-slip', {}),
];
const UNTOLD = [
  detection('oil-pressure-low', {
    answer: 'cannot tell',
    why: 'missing oil-pressure, oil-temperature',
    missing: ['oil-pressure', 'oil-temperature'],
  }),
  detection('turbo-overspeed', {
    answer: 'cannot tell',
    why: 'the speed limit of the turbocharger is not stated',
  }),
];

const SEPARATION: Separation = {
  tied: {
    answer: 'tied',
    missing: [],
    evidence: [{ name: 'wheel-slip.departure', value: 0.003, threshold: 0.015, kind: 'fraction', source: PRACTICE }],
  },
  commanded: { answer: 'unchanged', missing: [], evidence: [] },
  supply: { answer: 'unknown', missing: ['lambda'], evidence: [] },
};

function hypothesis(fault: Fault, probability: number, more: Partial<Hypothesis & Detection>): Hypothesis {
  const { evidence = [], features = [], stopClass = 1, voids = 'power' } = more;
  return {
    fault,
    probability,
    evidence,
    detection: detection(fault, {
      answer: 'seen',
      windows: [WINDOW],
      features,
      stopClass,
      voids,
      strength: probability,
      needs: ['brake-force'],
    }),
  };
}

const SPARK: Occurrence = {
  windows: [WINDOW],
  hypotheses: [
    hypothesis(BREAKUP, 0.92, {
      features: [
        { name: 'roughness.share', value: 0.081, threshold: 0.02, kind: 'fraction', source: 'our default' },
        { name: 'ignition-breakup.lean', value: 0.034, threshold: 0.02, kind: 'lambda', source: PRACTICE },
        {
          name: 'engine speed of onset',
          value: 5340 * RPM,
          threshold: undefined,
          kind: 'engine-speed',
          source: 'measured in this pull',
        },
      ],
      evidence: [
        { what: 'short drops of force in irregular bursts', weight: 2.4 },
        { what: 'lambda leans behind each burst', weight: 1.3 },
        { what: 'battery voltage did not fall', weight: -0.5 },
      ],
    }),
    hypothesis('spark-energy', 0.06, {
      evidence: [
        { what: 'short drops of force in irregular bursts', weight: 1.9 },
        { what: 'battery voltage did not fall', weight: -2.1 },
      ],
    }),
  ],
  separation: SEPARATION,
  inseparable: [{ one: BREAKUP, other: 'valve-float', without: ['knock-level'] }],
  next: { check: 'read-the-trace', parts: [BREAKUP, 'spark-energy'] },
  stopClass: 1,
  voids: 'power',
};

const OVERSHOOT: Occurrence = {
  windows: [{ from: 3.6, to: 4.1, lowSpeed: 3120 * RPM, highSpeed: 3340 * RPM }],
  hypotheses: [
    hypothesis('boost-overshoot', 0.61, {
      voids: 'nothing',
      features: [
        {
          name: 'boost-overshoot.pressure',
          value: 9.4e3,
          threshold: 8e3,
          kind: 'pressure-difference',
          source: PRACTICE,
        },
      ],
      evidence: [{ what: 'pressure above its target after tip-in', weight: 1.1 }],
    }),
  ],
  separation: { ...SEPARATION, supply: { answer: 'air', missing: [], evidence: [] } },
  inseparable: [],
  next: undefined,
  stopClass: 0,
  voids: 'nothing',
};

const HEAD: Occurrence = {
  windows: [{ from: 10.2, to: 12, lowSpeed: 6100 * RPM, highSpeed: 6900 * RPM }],
  hypotheses: [
    hypothesis('head-lift', 0.83, {
      voids: 'nothing',
      stopClass: 2,
      features: [
        { name: 'head-lift.pressure', value: 41e3, threshold: 20e3, kind: 'pressure-difference', source: PRACTICE },
      ],
      evidence: [{ what: 'coolant pressure rises with load and stays up', weight: 2.2 }],
    }),
  ],
  separation: SEPARATION,
  inseparable: [],
  next: { check: 'cooling-leak-test', parts: ['head-lift'] },
  stopClass: 2,
  voids: 'nothing',
};

const OCCURRENCES: Readonly<Record<string, readonly Occurrence[]>> = {
  'pull-2': [SPARK, OVERSHOOT],
  'pull-held': [HEAD],
};
