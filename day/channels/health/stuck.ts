import { quantile } from '../../../core/numerics/index.ts';
import type { Finding } from '../../../core/quantities/index.ts';
import type { Channel } from '../channel.ts';
import {
  type CheckInput,
  type CheckResult,
  equalRuns,
  HEALTHY,
  LIVING,
  type MaskChange,
  partner,
  spanOf,
} from './check.ts';

/** A run of one value shorter than this is no evidence [s], [renewals]. @source our default */
const SHORTEST = 1;
const RENEWALS = 8;
/** …nor one that is not this much longer than the channel's own ordinary runs. @source our default */
const LONGER = 4;
/** The load must move by this share of its own range during the run. @source our default */
const LOAD_MOVES = 0.25;
/** What shows that load changes, best first. */
const LOADS = [
  'manifold-pressure',
  'tractive-force',
  'brake-force',
  'engine-speed',
  'throttle',
  'pedal',
  'roll-speed',
  'vehicle-speed',
] as const;
/** A speed can be held through any load: only another speed speaks against it. */
const SPEEDS = ['engine-speed', 'roll-speed', 'vehicle-speed', 'wheel-speed', 'roll-rotation'] as const;
/** Values below this share of the channel's high end are rest, overrun, a held idle flow, or a sensor's floor. @source our default */
const FLOOR = 0.1;
const FLOOR_FLOW = 0.2;

/** A living sensor that keeps one value for long while the load changes holds its last value. Values at the end of its scale are `saturated`. */
export function stuck({ channel, clock, context }: CheckInput): CheckResult {
  if (!LIVING.has(channel.meaning) || channel.origin === 'commanded') return HEALTHY;
  const others = { ...context, channels: context.channels.filter(({ name }) => name !== channel.name) };
  const load = partner(others, SPEEDS.some((meaning) => meaning === channel.meaning) ? SPEEDS : LOADS);
  const span = load ? spanOf(load.samples) : 0;
  if (!load || span === 0) return HEALTHY;
  const flow = channel.kind === 'mass-flow' || channel.kind === 'volume-flow';
  const floor =
    (flow ? FLOOR_FLOW : FLOOR) *
    quantile({ samples: channel.samples.map(Math.abs), probability: 0.98, missing: 'skip' });
  const runs = equalRuns(channel.samples, clock);
  const constant = spanOf(channel.samples) === 0;
  const shortest = Math.max(
    SHORTEST,
    RENEWALS / channel.refreshRate,
    constant ? 0 : LONGER * ordinary(runs, clock.times),
  );
  const findings: Finding[] = [];
  const masks: MaskChange[] = [];
  for (const { from, to } of runs) {
    const value = channel.samples[from];
    const duration = clock.times[to - 1] - clock.times[from];
    if (duration < shortest || Math.abs(value) <= floor || (!constant && atEnd(channel, value))) continue;
    const moved = spanOf(load.samples, from, to) / span;
    if (moved < LOAD_MOVES) continue;
    masks.push({ from, to, reason: 'stuck' });
    findings.push({
      kind: 'stuck',
      weight: 'fault',
      message: `"${channel.name}" keeps one value for ${duration.toFixed(1)} s while ${load.name} moves through ${(100 * moved).toFixed(0)} % of its range`,
      place: { channel: channel.name, from: clock.times[from], to: clock.times[to - 1] },
      numbers: { value, duration, shortest, loadMoved: moved },
      rule: `one value for ${shortest.toFixed(1)} s or more while the load moves ${100 * LOAD_MOVES} % (our default)`,
    });
  }
  return { findings, masks };
}

/** The longest runs this channel usually makes, counted by run [s]. */
function ordinary(runs: readonly { readonly from: number; readonly to: number }[], times: Float64Array): number {
  const durations = runs.map(({ from, to }) => times[to - 1] - times[from]);
  return durations.length < 20 ? 0 : quantile({ samples: durations, probability: 0.98, missing: 'skip' });
}

function atEnd({ samples }: Channel, value: number): boolean {
  return samples.every((each) => !(each > value)) || samples.every((each) => !(each < value));
}
