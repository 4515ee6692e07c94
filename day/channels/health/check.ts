import type { Finding } from '../../../core/quantities/index.ts';
import type { Channel, Clock, Reason } from '../channel.ts';
import type { Meaning } from '../meanings.ts';

/** Everything a check may look at beside its own channel. barometricPressure: Pa, when the day knows it. */
export interface HealthContext {
  readonly channels: readonly Channel[];
  readonly barometricPressure?: number;
}

export interface CheckInput {
  readonly channel: Channel;
  readonly clock: Clock;
  readonly context: HealthContext;
}

/** Samples [from, to) that must not be used, and why. Values stay as they are. */
export interface MaskChange {
  readonly from: number;
  readonly to: number;
  readonly reason: Reason;
}

export interface CheckResult {
  readonly findings: readonly Finding[];
  readonly masks: readonly MaskChange[];
}

/** One disease looked for on one channel. */
export type HealthCheck = (input: CheckInput) => CheckResult;

export const HEALTHY: CheckResult = { findings: [], masks: [] };

/** Sensors that cannot stand still, or at zero, while the engine runs through loads. @source common practice, no source */
export const LIVING: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['engine-speed', 'manifold-pressure', 'manifold-gauge-pressure', 'boost-pressure', 'exhaust-pressure'] as const),
  ...(['air-flow', 'fuel-flow', 'fuel-volume-flow', 'lambda', 'turbo-speed', 'exhaust-temperature'] as const),
  ...(['roll-speed', 'roll-rotation', 'vehicle-speed', 'wheel-speed', 'tractive-force'] as const),
]);

/** Slow sensors and guards that may stand still for a pull but never read zero while the engine runs. @source common practice, no source */
export const NEVER_ZERO: ReadonlySet<Meaning> = new Set<Meaning>([
  ...LIVING,
  ...(['battery-voltage', 'oil-pressure', 'fuel-pressure', 'injector-pulse', 'compressor-inlet-pressure'] as const),
]);

/** Channel of another meaning, the first one that has values. */
export function partner(context: HealthContext, meanings: readonly Meaning[]): Channel | undefined {
  for (const meaning of meanings) {
    const found = context.channels.find(
      (channel) => channel.meaning === meaning && channel.samples.some(Number.isFinite),
    );
    if (found) return found;
  }
  return undefined;
}

/** Steps that were worked out before: every check of every channel asks for that of the same clock. */
const knownSteps = new WeakMap<Clock, number>();

/** Median step between rows inside the pieces [s]. */
export function rowStep(clock: Clock): number {
  const known = knownSteps.get(clock) ?? middleStep(clock);
  knownSteps.set(clock, known);
  return known;
}

function middleStep({ times, pieces }: Clock): number {
  const steps: number[] = [];
  for (const { from, to } of pieces) for (let i = from + 1; i < to; i++) steps.push(times[i] - times[i - 1]);
  steps.sort((a, b) => a - b);
  return steps[Math.floor(steps.length / 2)] ?? Number.NaN;
}

/** Half-open runs of equal finite samples, never across a piece border. */
export function equalRuns(
  samples: Float64Array,
  { pieces }: Clock,
): readonly { readonly from: number; readonly to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (const piece of pieces) {
    for (let from = piece.from; from < piece.to; ) {
      let to = from + 1;
      while (to < piece.to && samples[to] === samples[from]) to += 1;
      if (Number.isFinite(samples[from])) runs.push({ from, to });
      from = to;
    }
  }
  return runs;
}

/** Lowest and highest sample of a stretch; missing samples do not count, without any the low end is above the high end. */
export function extremes(
  samples: Float64Array,
  from = 0,
  to = samples.length,
): { readonly low: number; readonly high: number } {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = from; i < to; i++) {
    if (samples[i] < low) low = samples[i];
    if (samples[i] > high) high = samples[i];
  }
  return { low, high };
}

/** What a channel moves through over a stretch; zero without samples. */
export function spanOf(samples: Float64Array, from = 0, to = samples.length): number {
  const { low, high } = extremes(samples, from, to);
  return high >= low ? high - low : 0;
}
