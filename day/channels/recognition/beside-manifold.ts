import { median, quantile } from '../../../core/numerics/index.ts';
import { toSi } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';
import type { Hypothesis } from './hypotheses.ts';
import { likeliest } from './in-si.ts';
import type { Weighed } from './relations.ts';

/** Shares of the rows that count as full and as little load, by manifold pressure; rows that each must have. @source our default */
const SHARE = 0.1;
const ROWS = 10;
/** Full load: pressure before the throttle over manifold pressure. @source common practice, no source: an open throttle takes a few per cent */
const BEFORE_THROTTLE = [0.96, 1.18] as const;
/** A log without load says nothing here: manifold pressure at full load over ambient at least. @source our default */
const LOADED = 0.85;
/** Little load: manifold pressure over ambient at most, and what the others then show over ambient. @source common practice, no source: idle, overrun and part load */
const LITTLE = 1.1;
const AT_LITTLE_LOAD = [0.55, 1.4] as const;
const SAYS = { strong: 12, against: 0.05 } as const;

const BESIDE: readonly Meaning[] = ['boost-pressure', 'exhaust-pressure'];

/**
 * What manifold pressure says of the pressures before the throttle and before the turbine whose zero or unit nobody wrote: before an open throttle there is
 * hardly more than behind it, and with little load neither is far from ambient.
 *
 * @param ambient [Pa]
 */
export function besideManifold(columns: readonly Weighed[], ambient: number): readonly Weighed[] {
  const manifold = columns.find(({ hypotheses }) => hypotheses[0]?.meaning.startsWith('manifold-'));
  if (!manifold || manifold.hypotheses[0].meaning === 'manifold-target') return columns;
  const reading = likeliest(manifold.hypotheses);
  const pressure = absolutes(manifold, reading, ambient);
  const [low, high] = [SHARE, 1 - SHARE].map((probability) =>
    quantile({ samples: pressure, probability, missing: 'skip' }),
  );
  const full = high > LOADED * ambient ? rowsWhere(pressure, (value) => value >= high) : [];
  const little = low < LITTLE * ambient ? rowsWhere(pressure, (value) => value <= low) : [];
  return columns.map((each) => {
    const meaning = each.hypotheses[0]?.meaning;
    if (each.hypotheses.length < 2 || meaning === undefined || !BESIDE.includes(meaning)) return each;
    return {
      ...each,
      hypotheses: each.hypotheses.map((hypothesis) => {
        const values = absolutes(each, hypothesis, ambient);
        const ratio = medianAt(values, full) / medianAt(pressure, full);
        const level = medianAt(values, little) / ambient;
        const first = meaning === 'boost-pressure' ? said(ratio, BEFORE_THROTTLE) : 1;
        const weight = hypothesis.weight * first * said(level, AT_LITTLE_LOAD);
        const held = weight >= hypothesis.weight * SAYS.strong;
        return held
          ? { ...hypothesis, weight, because: [...hypothesis.because, 'fits manifold pressure'] }
          : { ...hypothesis, weight };
      }),
    };
  });
}

function said(value: number, [low, high]: readonly [number, number]): number {
  if (!Number.isFinite(value)) return 1;
  return value >= low && value <= high ? SAYS.strong : SAYS.against;
}

function absolutes({ column }: Weighed, { unit, zero, divisor }: Hypothesis, ambient: number): Float64Array {
  return column.samples.map((value) => toSi(value / divisor, unit) + (zero === 'ambient' ? ambient : 0));
}

function rowsWhere(samples: Float64Array, test: (value: number) => boolean): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < samples.length; i++) if (test(samples[i])) rows.push(i);
  return rows.length >= ROWS ? rows : [];
}

function medianAt(samples: Float64Array, rows: readonly number[]): number {
  return rows.length === 0
    ? Number.NaN
    : median(
        rows.map((row) => samples[row]),
        'skip',
      );
}
