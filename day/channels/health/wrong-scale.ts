import { median, quantile } from '../../../core/numerics/index.ts';
import { CELSIUS_ZERO, type Finding, REVOLUTION } from '../../../core/quantities/index.ts';
import type { Channel } from '../channel.ts';
import { rangeOf } from '../recognition/ranges.ts';
import { type CheckInput, type CheckResult, HEALTHY, partner } from './check.ts';

/** The engine stands below this [rad/s]: 50 rpm. @source below cranking speed; our default */
const STANDING = (50 * REVOLUTION) / 60;
/** …for this long [s]; the first part of a stop is pressure still equalising. @source our default */
const STOOD = 1;
/** Rows of a state needed before it counts. @source our default */
const ROWS = 10;
/** A manifold sensor at rest may differ this much from the barometer [Pa]. @source two sensors of 1 % full scale of 250 kPa; our default */
const REST_OFF = 4000;
/** Wheel over roll speed at low force may differ this much from one, and spread this little. @source tyre creep below 0.5 % at low force; our default */
const RATIO_OFF = 0.007;
const RATIO_SPREAD = 0.01;
/** Low force: below this share of the largest. @source our default */
const LOW_FORCE = 0.3;
/** Cold engine: coolant below this [K]; then temperatures agree within the next number [K]. @source overnight soak; our default */
const COLD = CELSIUS_ZERO + 40;
const SOAK_OFF = 12;
const SOAKING = [
  'coolant-temperature',
  'oil-temperature',
  'gearbox-temperature',
  'axle-temperature',
  'charge-temperature',
] as const;

/** Cross-checks against physics that hold whatever the pull: rest pressure, speed ratio without load, cold temperatures, possible range. */
export function wrongScale(input: CheckInput): CheckResult {
  const found = [manifoldAtRest(input), speedRatio(input), coldSoak(input), outOfRange(input)].filter(
    (finding) => finding !== undefined,
  );
  return found.length === 0 ? HEALTHY : { findings: found, masks: [] };
}

function manifoldAtRest({ channel, clock, context }: CheckInput): Finding | undefined {
  if (channel.meaning !== 'manifold-pressure' && channel.meaning !== 'boost-pressure') return undefined;
  const engine = partner(context, ['engine-speed']);
  const barometer = partner(context, ['barometric-pressure']);
  const ambient = barometer ? median(barometer.samples, 'skip') : context.barometricPressure;
  if (!engine || ambient === undefined) return undefined;
  const rest = standingRows(engine.samples, clock.times)
    .map((i) => channel.samples[i])
    .filter(Number.isFinite);
  if (rest.length < ROWS) return undefined;
  const off = median(rest, 'skip') - ambient;
  if (Math.abs(off) <= REST_OFF) return undefined;
  return {
    ...doubtful(channel, `reads ${(off / 1000).toFixed(1)} kPa off the barometer while the engine stands`),
    numbers: { rest: ambient + off, barometer: ambient, off, limit: REST_OFF },
    rule: 'manifold equals ambient pressure at rest, within 4 kPa (our default)',
  };
}

/** Rows in which the engine has stood for a while: a zero of a few rows is a dropout, not rest. */
function standingRows(engineSpeed: Float64Array, times: Float64Array): readonly number[] {
  const rows: number[] = [];
  let since = 0;
  for (let i = 0; i < engineSpeed.length; i++) {
    if (!(engineSpeed[i] < STANDING)) since = i + 1;
    else if (times[i] - times[since] >= STOOD) rows.push(i);
  }
  return rows;
}

function speedRatio({ channel, context }: CheckInput): Finding | undefined {
  if (channel.meaning !== 'wheel-speed' && channel.meaning !== 'vehicle-speed') return undefined;
  const roll = partner(context, ['roll-speed']);
  if (!roll) return undefined;
  const force = partner(context, ['tractive-force', 'brake-force']);
  const fast = 0.3 * quantile({ samples: roll.samples, probability: 0.99, missing: 'skip' });
  const low = force
    ? LOW_FORCE * quantile({ samples: force.samples.map(Math.abs), probability: 0.99, missing: 'skip' })
    : 0;
  const ratios: number[] = [];
  for (let i = 0; i < roll.samples.length; i++) {
    if (roll.samples[i] > fast && (!force || Math.abs(force.samples[i]) < low))
      ratios.push(channel.samples[i] / roll.samples[i]);
  }
  const kept = ratios.filter(Number.isFinite);
  if (kept.length < ROWS) return undefined;
  const ratio = median(kept, 'skip');
  const spread =
    quantile({ samples: kept, probability: 0.75, missing: 'skip' }) -
    quantile({ samples: kept, probability: 0.25, missing: 'skip' });
  if (Math.abs(ratio - 1) <= RATIO_OFF || spread > RATIO_SPREAD) return undefined;
  return {
    ...doubtful(channel, `is ${ratio.toFixed(4)} times the roll speed at low force: scaled for another tyre`),
    numbers: { ratio, spread, limit: RATIO_OFF },
    rule: 'wheel and roll run alike at low force, within 0.7 % (our default)',
  };
}

function coldSoak({ channel, context }: CheckInput): Finding | undefined {
  if (!SOAKING.some((meaning) => meaning === channel.meaning)) return undefined;
  const engine = partner(context, ['engine-speed']);
  if (!engine || !(firstValue(engine) < STANDING)) return undefined;
  const others = context.channels.filter(
    ({ meaning }) => SOAKING.some((each) => each === meaning) || meaning === 'ambient-temperature',
  );
  const starts = others
    .filter(({ name }) => name !== channel.name)
    .map(firstValue)
    .filter(Number.isFinite);
  const coolant = partner(context, ['coolant-temperature']);
  if (starts.length < 2 || !coolant || !(median(starts, 'skip') < COLD)) return undefined;
  const spread = Math.max(...starts) - Math.min(...starts);
  const off = firstValue(channel) - median(starts, 'skip');
  if (!(Math.abs(off) > SOAK_OFF) || spread > SOAK_OFF) return undefined;
  return {
    ...doubtful(channel, `starts ${off.toFixed(0)} K off the other temperatures of the cold engine`),
    numbers: { off, limit: SOAK_OFF, others: starts.length },
    rule: 'temperatures of a cold engine agree within 12 K (our default)',
  };
}

function outOfRange({ channel }: CheckInput): Finding | undefined {
  const range = rangeOf(channel.meaning);
  if (!range || channel.origin === 'commanded') return undefined;
  const low = quantile({ samples: channel.samples, probability: 0.02, missing: 'skip' });
  const high = quantile({ samples: channel.samples, probability: 0.98, missing: 'skip' });
  if (!(low < range.lowest || high > range.highest)) return undefined;
  return {
    ...doubtful(channel, 'has values that its quantity cannot have: wrong unit or wrong scale'),
    numbers: { low, high, lowest: range.lowest, highest: range.highest },
    rule: 'range table of recognition (our default)',
  };
}

function doubtful(channel: Channel, text: string): Finding {
  return {
    kind: 'wrong-scale',
    weight: 'doubt',
    message: `"${channel.name}" ${text}`,
    place: { channel: channel.name },
  };
}

function firstValue({ samples }: Channel): number {
  return samples.find(Number.isFinite) ?? Number.NaN;
}
