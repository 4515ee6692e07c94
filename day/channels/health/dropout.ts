import { quantile } from '../../../core/numerics/index.ts';
import type { Finding } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import { type CheckInput, type CheckResult, extremes, HEALTHY, LIVING, type MaskChange, rowStep } from './check.ts';

/** A dropout returns within this time [s]; longer is another state. @source our default */
const LONGEST = 1.5;
/** The fall, as a share of the level before it; for temperatures in K. @source our default */
const FALL = 0.4;
const FALL_TEMPERATURE = 25;
/** The level after the return is within this share of the fall from the level before. @source our default */
const RETURN = 0.35;
/** While out, the signal rests within this share of the fall. @source our default */
const REST = 0.05;
/** Share of missing cells up to which a missing run is a dropout and not the way the file is written. @source our default */
const MOSTLY_THERE = 0.1;

/** What a pump or an alternator keeps up throughout. @source common practice, no source */
const FED: ReadonlySet<Meaning> = new Set<Meaning>([
  ...(['battery-voltage', 'oil-pressure', 'fuel-pressure', 'fuel-pressure-difference'] as const),
]);

/** Runs at zero, at the bottom of the scale or without a value, after which the old level is back. */
export function dropout(input: CheckInput): CheckResult {
  const { channel } = input;
  const temperature = channel.kind === 'temperature';
  const watched = LIVING.has(channel.meaning) || temperature || FED.has(channel.meaning);
  if (!watched || channel.meaning === 'tractive-force') return HEALTHY;
  const falls = fallen(input, temperature);
  const holes = missing(input);
  return { findings: [...falls.findings, ...holes.findings], masks: falls.masks };
}

function fallen({ channel, clock }: CheckInput, temperature: boolean): CheckResult {
  const { samples, name } = channel;
  const floor = extremes(samples).low;
  const level = quantile({ samples, probability: 0.9, missing: 'skip' });
  const renewal = Math.max(1, Math.round(1 / (channel.refreshRate * rowStep(clock))));
  const findings: Finding[] = [];
  const masks: MaskChange[] = [];
  for (const piece of clock.pieces) {
    for (let from = piece.from + 1; from < piece.to; from++) {
      const before = samples[from - 1];
      const fall = before - samples[from];
      if (!(fall > (temperature ? FALL_TEMPERATURE : FALL * Math.max(before, 0.15 * level)))) continue;
      if (samples[from] > floor + REST * fall) continue;
      let to = from + 1;
      while (to < piece.to && Math.abs(samples[to] - samples[from]) < REST * fall) to += 1;
      const duration = clock.times[to - 1] - clock.times[from] + rowStep(clock);
      const back = to < piece.to && Math.abs(samples[to] - before) < RETURN * fall;
      if (!back || duration > LONGEST || !lasts({ samples, from, to, renewal }, RETURN * fall)) continue;
      masks.push({ from, to, reason: 'dropout' });
      findings.push({
        kind: 'dropout',
        weight: 'doubt',
        message: `"${name}" falls out for ${duration.toFixed(2)} s and comes back to where it was`,
        place: { channel: name, from: clock.times[from], to: clock.times[to - 1] },
        numbers: { before, fallenTo: samples[from], after: samples[to], duration },
        rule: `fall to the bottom of the scale and return within ${LONGEST} s (our default)`,
      });
      from = to;
    }
  }
  return { findings, masks };
}

interface Fallen {
  readonly samples: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Rows from one renewal to the next. */
  readonly renewal: number;
}

/** True when the level beside the fall is there for more than one renewal, before it or after it: between two spikes nothing has fallen. */
function lasts({ samples, from, to, renewal }: Fallen, near: number): boolean {
  const apart = (at: number, level: number): boolean => Math.abs(samples[at] - level) >= near;
  return !apart(from - 1 - renewal, samples[from - 1]) || !apart(to + renewal, samples[to]);
}

function missing({ channel, clock }: CheckInput): CheckResult {
  const { samples, name } = channel;
  const absent = samples.reduce((count, value) => (Number.isNaN(value) ? count + 1 : count), 0);
  if (absent === 0 || absent > MOSTLY_THERE * samples.length) return HEALTHY;
  const findings: Finding[] = [];
  for (const piece of clock.pieces) {
    for (let from = piece.from; from < piece.to; from++) {
      if (!Number.isNaN(samples[from])) continue;
      let to = from;
      while (to < piece.to && Number.isNaN(samples[to])) to += 1;
      if (from > piece.from && to < piece.to) {
        findings.push({
          kind: 'dropout',
          weight: 'note',
          message: `"${name}" has no value for ${to - from} rows`,
          place: { channel: name, from: clock.times[from], to: clock.times[to - 1] },
          numbers: { rows: to - from },
          rule: `missing cells in a channel that is otherwise ${100 * (1 - MOSTLY_THERE)} % complete (our default)`,
        });
      }
      from = to;
    }
  }
  return { findings, masks: [] };
}
