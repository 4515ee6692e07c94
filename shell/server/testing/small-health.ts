import { type DayHealth, dayHealth, type HealthLine } from '../../../day/verdicts/index.ts';

/** The health of a day on which nothing happened. */
const NOTHING_KNOWN = dayHealth({
  facts: { title: '', place: {}, vehicle: {}, engine: {}, roller: {}, ambient: {}, entries: [], mappings: [] },
  opened: new Map(),
  results: new Map(),
});
const ENTRIES = ['pull-1', 'pull-2', 'pull-3', 'pull-6'];
const RISES = [0.001, -0.001, 0.004, 0.031];

const LINE: HealthLine = {
  name: 'coast-down force, clutch open',
  subject: 'driveline',
  kind: 'fraction',
  worse: 'up',
  baseline: 2,
  repeat: { value: 0.003, degreesOfFreedom: 6 },
  remarks: [],
  points: ENTRIES.map((entry, at) => ({
    ...{ entry, clock: 600 * at, block: 0, changed: [] },
    deviation: { value: RISES[at] ?? 0, standardUncertainty: 0.003 },
  })),
  ewma: {
    statistic: Float64Array.of(0.0003, -0.0001, 0.001, 0.01),
    deviation: Float64Array.of(0.001, 0.0015, 0.002, 0.002),
    low: Float64Array.of(-0.003, -0.004, -0.005, -0.006),
    high: Float64Array.of(0.003, 0.004, 0.005, 0.006),
    outside: [3],
  },
  sums: undefined,
  verdict: 'left its band',
  left: { entry: 'pull-6', direction: 'up', by: 'moving average', since: 'pull-3', worse: true },
};

const { left: _left, ...STEADY } = LINE;

/** The invented health of the invented day: a line that left its band, one with too few points, a gate that was not met. */
export const SMALL_HEALTH: DayHealth = {
  ...NOTHING_KNOWN,
  lines: [
    LINE,
    {
      ...STEADY,
      name: 'oil pressure at equal speed and temperature',
      subject: 'loads',
      points: LINE.points.slice(0, 1),
      ewma: undefined,
      verdict: 'not enough',
      why: 'not enough pulls: 1 to count from, 2 needed',
    },
  ],
  findings: [
    {
      kind: 'coast-force-rise',
      subject: 'driveline',
      stopClass: 1,
      entry: 'pull-6',
      rests: ['pull-1', 'pull-6'],
      why: 'not the engine: risen with the clutch open',
      changed: ['plug gap 0.70 → 0.55 mm'],
      values: [
        {
          name: 'rise',
          value: { value: 0.031, standardUncertainty: 0.003 },
          kind: 'fraction',
          limit: 0.02,
          source: 'our default',
        },
      ],
    },
  ],
  unknown: [{ what: 'change of the engine drag', entries: [], why: 'one coast-down in gear only' }],
  readiness: [
    {
      entry: 'pull-6',
      key: 'pull-6',
      ready: false,
      sincePull: 720,
      unknown: ['tyre-temperature'],
      gates: [
        {
          channel: 'oil-temperature',
          value: { value: 380.2, standardUncertainty: 0.4 },
          low: 358.15,
          high: 378.15,
          out: 'too hot',
          rule: 'gate.oil-high: common practice, no source',
          wait: { value: 353, standardUncertainty: 83 },
        },
        {
          channel: 'coolant-temperature',
          value: { value: 358.2, standardUncertainty: 0.4 },
          low: 353.15,
          high: 365.15,
          out: undefined,
          rule: 'gate.coolant-high: common practice, no source',
        },
      ],
    },
  ],
  stopClass: 1,
};
