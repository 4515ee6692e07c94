import { median, quantile } from '../../../core/numerics/index.ts';
import { CELSIUS_ZERO, toSi } from '../../../core/quantities/index.ts';
import { MEANINGS } from '../meanings.ts';
import type { Column } from '../table.ts';
import type { Hypothesis } from './hypotheses.ts';
import type { Weighed } from './relations.ts';

/** Engine counts as standing below this share of its own highest speed, as idling below the next one. @source our default */
const STANDING = 0.01;
const IDLING = 0.3;
/** An idle keeps its speed within this of its median, for this share of the low rows; the foot of a ramp does not. @source our default */
const IDLE_STEADY = 0.04;
const IDLE_SHARE = 0.6;
/** Rows needed in a state before it says something. @source our default */
const ROWS = 5;
/** At rest a manifold shows ambient pressure within this. @source sensor accuracy of 1-2 % and altitude drift; our default */
const REST_TOLERANCE = 0.04;
/** An idling engine holds its manifold below this share of ambient (not diesel), never far above it. @source common practice */
const IDLE_HIGHEST = 1.08;
const SAYS = { strong: 12, against: 0.05 } as const;
/** Cold or warm, sensors of one stopped engine differ from each other by no more than this [K] on most logs' first rows. @source our default */
const SOAK = 12;

/** What standing and idling engines say about manifold pressures without a stated zero or unit. */
export function atRest(columns: readonly Weighed[], ambient: number): readonly Weighed[] {
  const engine = columns.find(({ hypotheses }) => hypotheses[0]?.meaning === 'engine-speed')?.column;
  if (!engine) return columns;
  const top = quantile({ samples: engine.samples, probability: 1, missing: 'skip' });
  const rows = (from: number, to: number) =>
    rowsWhere(engine.samples, (value) => value >= from * top && value < to * top);
  const standing = rows(-1, STANDING);
  const idling = steadyRows(engine.samples, rows(STANDING, IDLING));
  return columns.map((each) => {
    if (!each.hypotheses[0]?.meaning.startsWith('manifold')) return each;
    const rest = standing.length >= ROWS ? medianAt(each.column, standing) : Number.NaN;
    const idle = idling.length >= ROWS ? medianAt(each.column, idling) : Number.NaN;
    return {
      ...each,
      hypotheses: each.hypotheses.map((hypothesis) => restWeighed(hypothesis, { rest, idle, ambient })),
    };
  });
}

/** Temperatures without a unit follow the unit that the file writes elsewhere, and must agree with each other on a cold engine. */
export function soaked(columns: readonly Weighed[]): readonly Weighed[] {
  const known = columns.filter(
    ({ hypotheses }) => hypotheses.length === 1 && hypotheses[0].unit.dimension === 'temperature',
  );
  if (known.length === 0) return columns;
  const cold = known
    .map(({ column, hypotheses }) => toSi(firstValue(column), hypotheses[0].unit))
    .filter(Number.isFinite);
  const symbols = new Set(known.map(({ hypotheses }) => hypotheses[0].unit.symbol));
  return columns.map((each) => {
    if (each.hypotheses.length < 2 || each.hypotheses[0].unit.dimension !== 'temperature') return each;
    return {
      ...each,
      hypotheses: each.hypotheses.map((hypothesis) => {
        const start = toSi(firstValue(each.column), hypothesis.unit);
        const near = cold.some((other) => Math.abs(other - start) < SOAK && start < CELSIUS_ZERO + 120);
        const habit = symbols.size === 1 && symbols.has(hypothesis.unit.symbol);
        const because = [
          ...(habit ? [`the other temperatures of this file are in ${hypothesis.unit.symbol}`] : []),
          ...(near ? ['starts near another temperature of the same file'] : []),
        ];
        const weight = hypothesis.weight * (habit ? 3 : 1) * (near ? 2 : 1);
        return { ...hypothesis, weight, because: [...hypothesis.because, ...because] };
      }),
    };
  });
}

interface Seen {
  readonly rest: number;
  readonly idle: number;
  readonly ambient: number;
}

function restWeighed(hypothesis: Hypothesis, { rest, idle, ambient }: Seen): Hypothesis {
  const absolute = (value: number) => toSi(value, hypothesis.unit) + (hypothesis.zero === 'ambient' ? ambient : 0);
  let { weight } = hypothesis;
  const because = [...hypothesis.because];
  if (Number.isFinite(rest)) {
    const off = Math.abs(absolute(rest) / ambient - 1);
    if (off < REST_TOLERANCE) because.push('equals ambient pressure while the engine stands');
    weight *= off < REST_TOLERANCE ? SAYS.strong : off < 4 * REST_TOLERANCE ? 1 : SAYS.against;
  }
  if (Number.isFinite(idle)) {
    const share = absolute(idle) / ambient;
    if (share > IDLE_HIGHEST || share < 0.1) weight *= SAYS.against;
    else because.push('plausible at low engine speed');
  }
  return { ...hypothesis, weight, because };
}

/** True when the meaning is a manifold pressure, whichever zero. */
export function isManifold({ meaning }: Hypothesis): boolean {
  return MEANINGS[meaning].subject === 'charge-air' && meaning.startsWith('manifold');
}

/** The rows again when they are one steady idle; none when they are the low end of a ramp. */
function steadyRows(samples: Float64Array, rows: readonly number[]): readonly number[] {
  const values = rows.map((row) => samples[row]);
  const middle = median(values, 'skip');
  const steady = rows.filter((row) => Math.abs(samples[row] - middle) < IDLE_STEADY * middle);
  return steady.length >= IDLE_SHARE * rows.length ? steady : [];
}

function rowsWhere(samples: Float64Array, test: (value: number) => boolean): readonly number[] {
  const rows: number[] = [];
  for (let i = 0; i < samples.length; i++) if (test(samples[i])) rows.push(i);
  return rows;
}

function medianAt({ samples }: Column, rows: readonly number[]): number {
  return median(
    rows.map((row) => samples[row]),
    'skip',
  );
}

function firstValue({ samples }: Column): number {
  return samples.find((value) => Number.isFinite(value)) ?? Number.NaN;
}
