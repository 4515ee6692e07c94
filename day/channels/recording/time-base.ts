import { median, medianAbsoluteDeviation, quantile } from '../../../core/numerics/index.ts';
import type { Finding } from '../../../core/quantities/index.ts';
import type { Piece } from '../channel.ts';

/** A step longer than this many median steps is a gap. @source our default: two rows missing in a row */
const GAP_STEPS = 3;
/** …and longer than the median by this many scaled median deviations, so that an uneven clock is not all gaps. @source our default */
const GAP_DEVIATIONS = 8;
/** A clock that is uneven all along has its own long steps: half as long again as the longest hundredth, up to so many median steps. @source our default */
const GAP_UNEVEN = 1.5;
const GAP_UNEVEN_STEPS = 6;
/** A jump this close to a whole number of half hours looks like a clock that was set [s]. @source our default */
const SET_CLOCK = 1800;
const SET_TOLERANCE = 3;
/** Share of repeated stamps from which the stamps are coarse rather than single rows doubled. @source our default */
const COARSE_SHARE = 0.2;
/** Of one kind, so many findings are written one by one; the rest is counted. @source our default */
const LISTED = 20;

/** Rows that can be placed in time. rows: index into the table; times: s, as long as rows, strictly increasing inside each piece. */
export interface TimeBase {
  readonly rows: Int32Array;
  readonly times: Float64Array;
  readonly pieces: readonly Piece[];
  readonly step: number;
  readonly findings: readonly Finding[];
}

/**
 * Turns written time into a clock: rows without a time are left out, coarse stamps are spread, doubled and stray rows are left out,
 * and gaps and falls start a new piece. Everything that was done is a finding.
 *
 * @param written time per row [s], NaN where missing
 */
export function timeBase(written: Float64Array): TimeBase {
  const findings: Finding[] = [];
  const placed = rowsWhere(written.length, (i) => Number.isFinite(written[i]));
  if (placed.length < written.length) {
    findings.push(
      note(
        'time-missing',
        `${counted(written.length - placed.length)} without a time left out`,
        written.length - placed.length,
      ),
    );
  }
  const spread = withoutRepeats(placed, written, findings);
  const straight = withoutStrays(spread, findings);
  const steps = stepsOf(straight.times);
  const step = median(steps, 'skip');
  const limit = gapLimit(steps, step);
  const pieces = cut({ times: straight.times, limit, step }, findings);
  return { rows: Int32Array.from(straight.rows), times: straight.times, pieces, step, findings: listed(findings) };
}

function gapLimit(steps: readonly number[], step: number): number {
  const deviation = step + GAP_DEVIATIONS * medianAbsoluteDeviation(steps, 'skip');
  const uneven = GAP_UNEVEN * quantile({ samples: steps, probability: 0.99, missing: 'skip' });
  return Math.max(GAP_STEPS * step, deviation, Math.min(uneven, GAP_UNEVEN_STEPS * step));
}

interface Rows {
  readonly rows: readonly number[];
  readonly times: Float64Array;
}

/** Stamps that repeat by the dozen are coarse: rows are spread to the next stamp. A stamp that repeats here and there is a doubled row. */
function withoutRepeats(rows: readonly number[], written: Float64Array, findings: Finding[]): Rows {
  const times = Float64Array.from(rows, (row) => written[row]);
  const repeated = rowsWhere(times.length, (i) => i > 0 && times[i] === times[i - 1]);
  if (repeated.length === 0) return { rows, times };
  if (repeated.length < COARSE_SHARE * times.length) {
    const doubled = new Set(repeated);
    for (const i of repeated) {
      findings.push({
        ...doubt(
          'time-repeated',
          `the stamp ${shown(times[i])} s is written twice; the later row is left out`,
          times[i],
        ),
        numbers: { time: times[i], row: rows[i] },
      });
    }
    const kept = rowsWhere(times.length, (i) => !doubled.has(i));
    return { rows: kept.map((i) => rows[i]), times: Float64Array.from(kept, (i) => times[i]) };
  }
  const resolution = median(
    stepsOf(times).filter((step) => step > 0),
    'skip',
  );
  findings.push({
    kind: 'time-coarse',
    weight: 'doubt',
    message: `time is written in steps of ${shown(resolution)} s for several rows each; rows are spread evenly between stamps`,
    numbers: { resolution, repeated: repeated.length, rows: times.length },
  });
  return { rows, times: spreadBetween(times, resolution) };
}

function spreadBetween(times: Float64Array, resolution: number): Float64Array {
  const spread = Float64Array.from(times);
  for (let from = 0; from < times.length; ) {
    let to = from;
    while (to < times.length && times[to] === times[from]) to += 1;
    const next =
      to < times.length && times[to] > times[from]
        ? Math.min(times[to], times[from] + resolution)
        : times[from] + resolution;
    for (let i = from; i < to; i++) spread[i] = times[from] + ((next - times[from]) * (i - from)) / (to - from);
    from = to;
  }
  return spread;
}

/** One row whose stamp lies behind the row before, while the next one is in order again, has a wrong stamp. */
function withoutStrays({ rows, times }: Rows, findings: Finding[]): Rows {
  const strays = new Set(
    rowsWhere(
      times.length,
      (i) => i > 0 && i + 1 < times.length && times[i] < times[i - 1] && times[i + 1] > times[i - 1],
    ),
  );
  if (strays.size === 0) return { rows, times };
  for (const i of strays) {
    findings.push({
      ...doubt(
        'time-stray',
        `one row is stamped ${shown(times[i])} s after ${shown(times[i - 1])} s; it is left out`,
        times[i],
      ),
      numbers: { time: times[i], before: times[i - 1], row: rows[i] },
    });
  }
  const kept = rowsWhere(times.length, (i) => !strays.has(i));
  return { rows: kept.map((i) => rows[i]), times: Float64Array.from(kept, (i) => times[i]) };
}

interface Cutting {
  readonly times: Float64Array;
  readonly limit: number;
  readonly step: number;
}

function cut({ times, limit, step }: Cutting, findings: Finding[]): readonly Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  for (let i = 1; i < times.length; i++) {
    const jump = times[i] - times[i - 1];
    if (jump > 0 && jump <= limit) continue;
    findings.push(jumpFinding({ before: times[i - 1], after: times[i], limit, step }));
    pieces.push({ from, to: i });
    from = i;
  }
  if (times.length > 0) pieces.push({ from, to: times.length });
  return pieces;
}

interface Jump {
  readonly before: number;
  readonly after: number;
  readonly limit: number;
  readonly step: number;
}

function jumpFinding({ before, after, limit, step }: Jump): Finding {
  const jump = after - before;
  const off = Math.abs(jump - Math.round(jump / SET_CLOCK) * SET_CLOCK);
  const set = Math.abs(jump) > SET_CLOCK / 2 && off < SET_TOLERANCE;
  const numbers = { before, after, jump, limit, medianStep: step };
  const place = { from: Math.min(before, after), to: Math.max(before, after) };
  const rule = `step over ${limit.toPrecision(4)} s (our default: ${GAP_STEPS} median steps, more for an uneven clock)`;
  if (jump <= 0 || set) {
    const how = set ? `: the clock was set by ${Math.round(jump / SET_CLOCK) * 30} min` : '';
    return {
      kind: jump <= 0 ? 'time-backward' : 'time-jump',
      weight: 'doubt',
      message: `time goes from ${shown(before)} s to ${shown(after)} s${how}; split here`,
      place,
      numbers,
      rule,
    };
  }
  return {
    kind: 'gap',
    weight: 'doubt',
    message: `nothing was recorded for ${jump.toPrecision(3)} s from ${shown(before)} s; split here`,
    place,
    numbers,
    rule,
  };
}

/** The first of each kind one by one, then one line with the count of the rest. */
function listed(findings: readonly Finding[]): readonly Finding[] {
  const kinds = new Map<string, Finding[]>();
  for (const finding of findings) kinds.set(finding.kind, [...(kinds.get(finding.kind) ?? []), finding]);
  return [...kinds].flatMap(([kind, all]) => {
    if (all.length <= LISTED) return all;
    const rest = all.length - LISTED;
    return [...all.slice(0, LISTED), { ...all[0], message: `${rest} more of kind ${kind}`, numbers: { count: rest } }];
  });
}

/** A time or step in as many digits as a log writes, without the tail of binary fractions. */
function shown(seconds: number): string {
  return String(Number(seconds.toFixed(6)));
}

function counted(rows: number): string {
  return rows === 1 ? '1 row' : `${rows} rows`;
}

function stepsOf(times: Float64Array): readonly number[] {
  const steps: number[] = [];
  for (let i = 1; i < times.length; i++) if (times[i] >= times[i - 1]) steps.push(times[i] - times[i - 1]);
  return steps;
}

function rowsWhere(length: number, test: (i: number) => boolean): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < length; i++) if (test(i)) rows.push(i);
  return rows;
}

function note(kind: string, message: string, count: number): Finding {
  return { kind, weight: 'note', message, numbers: { count } };
}

function doubt(kind: string, message: string, at: number): Finding {
  return { kind, weight: 'doubt', message, place: { from: at, to: at } };
}
