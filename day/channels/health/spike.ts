import { median } from '../../../core/numerics/index.ts';
import type { Finding } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import { type CheckInput, type CheckResult, HEALTHY, type MaskChange, rowStep, spanOf } from './check.ts';

/** A spike stands this many median deviations off the median of five. @source domain practice for one-sample spikes; our default */
const DEVIATIONS = 8;
/** …this many times the channel's resolution, so that a quantised channel has none. @source our default */
const RESOLUTIONS = 5;
/** …this share of what the channel moves through at all. @source our default */
const SHARE = 0.03;
/** …and its steps are so many times the largest other step of the neighbourhood, so that peaks of real events are left alone. @source our default */
const LONELY = 2.5;
const NEIGHBOURHOOD = 8;
/** So many of the steps around may be those of other spikes; more would be how the channel moves. @source our default */
const COMPANY = 0.5;
/** Renewals per second below which a fast quantity can really jump between two samples. @source our default */
const FAST_ENOUGH = 8;
/** Channels that rightly jump for one sample. @source common practice, no source */
const JUMPY: ReadonlySet<Meaning> = new Set<Meaning>([
  ...([
    'knock-level',
    'knock-retard',
    'knock-count',
    'ignition-timing',
    'cut-status',
    'sync-errors',
    'warning-flags',
  ] as const),
  ...([
    'gear',
    'clutch',
    'throttle',
    'pedal',
    'injector-pulse',
    'injector-duty',
    'wastegate-duty',
    'brake-setting',
  ] as const),
  ...([
    'text',
    'unknown',
    'row-counter',
    'time',
    'dwell',
    'coil-current',
    'roll-acceleration',
    'stated-power',
  ] as const),
  ...(['stated-torque', 'lambda-target', 'manifold-target', 'cam-target'] as const),
]);
/** Quantities with heat or mass behind them: they cannot jump at any rate. */
const SLOW: ReadonlySet<string> = new Set(['temperature', 'barometric-pressure']);

/** One renewed value alone, far from both its neighbours that agree with each other. */
export function spike({ channel, clock }: CheckInput): CheckResult {
  const { meaning, kind, refreshRate, samples, name } = channel;
  if (JUMPY.has(meaning) || (!SLOW.has(kind) && refreshRate < FAST_ENOUGH)) return HEALTHY;
  const hold = Math.max(1, Math.round(1 / (refreshRate * rowStep(clock))));
  const findings: Finding[] = [];
  const masks: MaskChange[] = [];
  const span = spanOf(samples);
  for (const piece of clock.pieces) {
    const starts = renewals(samples, { ...piece, hold });
    const values = starts.map((i) => samples[i]);
    const aside = values.map((_, k) => asideOf(values, k));
    const sizes = aside.map(Math.abs);
    const limit = Math.max(
      DEVIATIONS * 1.4826 * median(sizes, 'skip'),
      RESOLUTIONS * resolutionOf(values),
      SHARE * span,
    );
    const high = sizes.map((size, k) => size > limit && alone(values, k));
    sizes.forEach((_, k) => {
      if (!high[k] || !lonely(values, k, high)) return;
      const [from, to] = [starts[k], starts[k + 1] ?? piece.to];
      masks.push({ from, to, reason: 'spike' });
      findings.push({
        kind: 'spike',
        weight: 'note',
        message: `"${name}" jumps aside for one sample`,
        place: { channel: name, from: clock.times[from], to: clock.times[to - 1] },
        numbers: { value: values[k], aside: aside[k], limit },
        rule: `more than ${DEVIATIONS} median deviations from the median of five, alone (our default)`,
      });
    });
  }
  return { findings, masks };
}

interface Holding {
  readonly from: number;
  readonly to: number;
  readonly hold: number;
}

/** First row of each renewed value: every change, and every so many rows without one. */
function renewals(samples: Float64Array, { from, to, hold }: Holding): readonly number[] {
  const starts: number[] = [];
  for (let i = from; i < to; i++) {
    if (Number.isNaN(samples[i])) continue;
    const last = starts[starts.length - 1];
    if (last === undefined || samples[i] !== samples[last] || i - last >= hold) starts.push(i);
  }
  return starts;
}

/** Distance from the median of the five values around it; of three next to an end. */
function asideOf(values: readonly number[], k: number): number {
  const reach = Math.min(2, k, values.length - 1 - k);
  if (reach === 0) return 0;
  const [a, b, c] = [values[k - 1], values[k], values[k + 1]];
  const inner = middleOf(a, b, c);
  if (reach === 1) return b - inner;
  const [d, e] = [values[k - 2], values[k + 2]];
  // The median of five is the middle one of: the middle of three, and the two others clamped into their range.
  const [low, high] = [Math.min(a, b, c), Math.max(a, b, c)];
  return (
    b - middleOf(inner, Math.min(Math.max(low, Math.min(d, e)), high), Math.max(low, Math.min(Math.max(d, e), high)))
  );
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/** True when the two steps into and out of a value dwarf every other step around it, those of a few other high values apart. */
function lonely(values: readonly number[], k: number, high: readonly boolean[]): boolean {
  if (k === 0 || k === values.length - 1) return false;
  const own = Math.min(Math.abs(values[k] - values[k - 1]), Math.abs(values[k] - values[k + 1]));
  let [others, all] = [0, 0];
  for (let i = Math.max(1, k - NEIGHBOURHOOD); i <= Math.min(values.length - 1, k + NEIGHBOURHOOD); i++) {
    if (i === k || i === k + 1) continue;
    all += 1;
    if (high[i] || high[i - 1]) others += 1;
    else if (Math.abs(values[i] - values[i - 1]) * LONELY > own) return false;
  }
  return others <= COMPANY * all;
}

/** Both neighbours are far away, on the same side, and near each other. */
function alone(values: readonly number[], k: number): boolean {
  if (k === 0 || k === values.length - 1) return false;
  const [before, after] = [values[k] - values[k - 1], values[k] - values[k + 1]];
  return before * after > 0 && Math.abs(before - after) < 0.35 * Math.min(Math.abs(before), Math.abs(after));
}

/** Smallest difference between two different values that follow each other. */
function resolutionOf(values: readonly number[]): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (let k = 1; k < values.length; k++) {
    const step = Math.abs(values[k] - values[k - 1]);
    if (step > 0 && step < smallest) smallest = step;
  }
  return Number.isFinite(smallest) ? smallest : 0;
}
