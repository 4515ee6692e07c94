import { quantile } from '../../../core/numerics/index.ts';
import { displayUnit, type Finding, fromSi } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import { type CheckInput, type CheckResult, equalRuns, extremes, HEALTHY, type MaskChange, spanOf } from './check.ts';

/** Sensors with a full scale. Commands, positions and humidity may rest at their end. @source common practice, no source */
const HAS_FULL_SCALE: ReadonlySet<Meaning> = new Set<Meaning>([
  ...([
    'manifold-pressure',
    'manifold-gauge-pressure',
    'boost-pressure',
    'exhaust-pressure',
    'lambda',
    'air-flow',
  ] as const),
  ...(['exhaust-temperature', 'oil-pressure', 'fuel-pressure', 'coolant-pressure', 'crankcase-pressure'] as const),
  ...(['brake-force', 'tractive-force', 'knock-level', 'charge-temperature', 'compressor-outlet-temperature'] as const),
]);
/** Quantities that something holds on purpose: a flat stretch can be a good controller. @source common practice, no source */
const CONTROLLED: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'fuel-pressure', 'oil-pressure'] as const),
  ...(['coolant-pressure', 'lambda', 'charge-temperature'] as const),
]);
/** Where pressure sensors commonly end, from either zero, and how near counts [Pa]. @source common practice, no source */
const FULL_SCALES = [105e3, 115e3, 200e3, 250e3, 300e3, 350e3, 400e3, 500e3, 600e3, 700e3, 1000e3];
const NEAR_FULL_SCALE = 0.02;
/** What shows that the controlled pressure itself goes on moving, and by which share of its range. @source our default */
const NEIGHBOURS = [
  'boost-pressure',
  'manifold-pressure',
  'manifold-gauge-pressure',
  'exhaust-pressure',
  'air-flow',
] as const;
const NEIGHBOUR_MOVES = 0.1;
/** A flat top this long is one [s], [renewals]. @source our default */
const SHORTEST = 0.25;
const RENEWALS = 6;
/** A flat top is so much longer than the channel's own runs off the top. @source our default: a quantised channel repeats values too */
const LONGER = 3;
/** A signal that is flat near the top anyway is not clipped: the level must be reached from this share of the span below. @source our default */
const CLIMB = 0.05;

/** Flat top (for lambda also flat bottom): the same highest value again and again where the sensor's own noise is gone. */
export function saturated(input: CheckInput): CheckResult {
  const { channel } = input;
  if (!HAS_FULL_SCALE.has(channel.meaning) || spanOf(channel.samples) === 0) return HEALTHY;
  const ends = channel.meaning === 'lambda' ? [1, -1] : [1];
  const results = ends.map((sign) => flatEnd(input, sign));
  return { findings: results.flatMap(({ findings }) => findings), masks: results.flatMap(({ masks }) => masks) };
}

function flatEnd(input: CheckInput, sign: number): CheckResult {
  const { channel, clock } = input;
  const { samples, refreshRate } = channel;
  const { low, high } = extremes(samples);
  const end = sign > 0 ? high : low;
  const runs = equalRuns(samples, clock);
  const length = ({ from, to }: { from: number; to: number }) => clock.times[to - 1] - clock.times[from];
  const others = runs.filter(({ from }) => samples[from] !== end && samples[from] !== 0).map(length);
  const usual = others.length < 10 ? 0 : quantile({ samples: others, probability: 0.97, missing: 'skip' });
  const shortest = Math.max(SHORTEST, RENEWALS / refreshRate, LONGER * usual);
  const span = spanOf(samples);
  const findings: Finding[] = [];
  const masks: MaskChange[] = [];
  for (const run of runs) {
    if (samples[run.from] !== end || length(run) < shortest || !climbsIn(samples, { ...run, span })) continue;
    const sure = surelyAnEnd(input, { ...run, end });
    if (sure) masks.push({ ...run, reason: 'saturated' });
    const why = sure
      ? 'the end of its scale; the true value lies beyond'
      : 'the end of its scale, with the true value beyond it, or a value that is held there; the log does not tell which';
    findings.push({
      kind: 'saturated',
      weight: sure ? 'fault' : 'doubt',
      message: `"${channel.name}" is flat at ${shown(end, channel.kind)} for ${length(run).toFixed(2)} s: ${why}`,
      place: { channel: channel.name, from: clock.times[run.from], to: clock.times[run.to - 1] },
      numbers: { end, duration: length(run), shortest },
      rule: `the same extreme value for ${shortest.toFixed(2)} s or more (our default)`,
    });
  }
  return { findings, masks };
}

interface Flat {
  readonly from: number;
  readonly to: number;
  readonly end: number;
}

/** What nobody holds on purpose ends with its sensor; what is controlled does so at a usual full scale while a neighbour goes on moving. */
function surelyAnEnd({ channel, context }: CheckInput, { from, to, end }: Flat): boolean {
  if (!CONTROLLED.has(channel.meaning)) return true;
  if (!FULL_SCALES.some((scale) => Math.abs(end / scale - 1) < NEAR_FULL_SCALE)) return false;
  return context.channels.some(
    ({ name, meaning, samples }) =>
      name !== channel.name &&
      NEIGHBOURS.some((each) => each === meaning) &&
      spanOf(samples, from, to) > NEIGHBOUR_MOVES * spanOf(samples),
  );
}

/** True when the signal comes from well below within as many rows as the flat part lasts. */
function climbsIn(samples: Float64Array, { from, to, span }: { from: number; to: number; span: number }): boolean {
  const before = Math.max(0, from - (to - from) - 5);
  return (
    spanOf(samples, before, from) > CLIMB * span ||
    spanOf(samples, to, Math.min(samples.length, to + (to - from) + 5)) > CLIMB * span
  );
}

function shown(value: number, kind: CheckInput['channel']['kind']): string {
  const unit = displayUnit(kind, 'metric');
  return `${Number(fromSi(value, unit).toPrecision(5))} ${unit.symbol}`;
}
