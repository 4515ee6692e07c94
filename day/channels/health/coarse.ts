import { displayUnit, type Finding, fromSi, STANDARD_ATMOSPHERE, unitOf } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import { type CheckInput, type CheckResult, HEALTHY, spanOf } from './check.ts';

/**
 * Resolution that the day's answers need, in the unit named; coarser is said.
 * @source our default: each step costs less than 0.3 % of power at full load of a common engine
 */
const NEEDED: Readonly<Partial<Record<Meaning, readonly [number, string]>>> = {
  'barometric-pressure': [0.25, 'kPa'],
  'ambient-temperature': [1.5, 'K'],
  'engine-speed': [25, 'rpm'],
  'roll-speed': [0.25, 'km/h'],
  'vehicle-speed': [0.5, 'km/h'],
  'brake-force': [30, 'N'],
  'tractive-force': [30, 'N'],
  'manifold-pressure': [1.5, 'kPa'],
  'boost-pressure': [1.5, 'kPa'],
  lambda: [0.015, '1'],
  'ignition-timing': [1.1, '°'],
};
/** A barometer written as a whole number of one of these was rounded by hand. */
const ROUNDED: readonly string[] = ['inHg', 'kPa'];

/** Values that come in steps too wide for what they are needed for; a barometer that is one round number. */
export function coarse({ channel }: CheckInput): CheckResult {
  const need = NEEDED[channel.meaning];
  if (!need || channel.origin === 'commanded') return HEALTHY;
  if (channel.meaning === 'barometric-pressure' && spanOf(channel.samples) === 0)
    return roundBarometer(channel.name, channel.samples);
  const needed = need[0] * unitOf(need[1]).factor;
  const step = resolution(channel.samples);
  if (!(step > needed)) return HEALTHY;
  const unit = displayUnit(channel.kind, 'metric');
  const finding: Finding = {
    kind: 'coarse',
    weight: 'doubt',
    message: `"${channel.name}" comes in steps of ${Number((step / unit.factor).toPrecision(3))} ${unit.symbol}; ${need[0]} ${need[1]} or finer is needed`,
    place: { channel: channel.name },
    numbers: { resolution: step, needed },
    rule: 'resolution table (our default)',
  };
  return { findings: [finding], masks: [] };
}

function roundBarometer(name: string, samples: Float64Array): CheckResult {
  const value = samples.find(Number.isFinite) ?? STANDARD_ATMOSPHERE;
  const symbol = ROUNDED.find(
    (each) => Math.abs(fromSi(value, unitOf(each)) - Math.round(fromSi(value, unitOf(each)))) < 1e-6,
  );
  if (!symbol) return HEALTHY;
  const half = 0.5 * unitOf(symbol).factor;
  const finding: Finding = {
    kind: 'coarse',
    weight: 'doubt',
    message: `"${name}" is ${Math.round(fromSi(value, unitOf(symbol)))} ${symbol} throughout: a rounded number, right to ±${((100 * half) / value).toFixed(1)} %`,
    place: { channel: name },
    numbers: { value, halfWidth: half },
    rule: 'a constant whole number of a barometer unit (our default)',
  };
  return { findings: [finding], masks: [] };
}

/** Smallest difference between distinct values [SI]; NaN below four distinct values. */
function resolution(samples: Float64Array): number {
  const values = [...new Set(samples.filter(Number.isFinite))].sort((a, b) => a - b);
  if (values.length < 4) return Number.NaN;
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 1; i < values.length; i++) smallest = Math.min(smallest, values[i] - values[i - 1]);
  return smallest;
}
