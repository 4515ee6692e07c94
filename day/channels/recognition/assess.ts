import { KINDS, STANDARD_ATMOSPHERE, type Unit, unitOf } from '../../../core/quantities/index.ts';
import { MEANINGS } from '../meanings.ts';
import type { Column, Table } from '../table.ts';
import type { Assessed } from './assessed.ts';
import { besideForce } from './beside-force.ts';
import { besideManifold } from './beside-manifold.ts';
import { type Candidate, candidatesOf, fitsDimension } from './candidates.ts';
import { withForceKind } from './force-kind.ts';
import { withForceSign } from './force-sign.ts';
import { type Asked, type Hypothesis, hypothesesOf, IMPOSSIBLE, ORDINARY, POSSIBLE, usualUnits } from './hypotheses.ts';
import { mixtureHypotheses } from './mixture.ts';
import { readings } from './reading.ts';
import { related } from './relations.ts';
import { atRest, soaked } from './rest-state.ts';
import { type Shape, shapeOf } from './shape.ts';
import { fileOrigin, inSurroundings, type Origin } from './surroundings.ts';
import { brokenTime, countedRows, countsRows, tickingTime, ticks, timeHypotheses } from './time-column.ts';

/** What is known beside the table; each part makes an answer surer, none is needed. */
export interface RecognitionContext {
  /** Pa */
  readonly barometricPressure?: number;
  /** m */
  readonly altitude?: number;
  /** Stoichiometric air-fuel ratio of the fuel burnt, by mass. */
  readonly fuelStoichiometric?: number;
}

/** Weight below which the written unit is said to contradict the numbers. @source our default: the weight of an impossible range */
const CONTRADICTED = IMPOSSIBLE * 2;
/** A column with a name or symbol of time that rises from row to row is time this surely. @source our default */
const RISING_TIME = 0.95;
/** Rows from which exact steps of one are no accident. @source our default */
const COUNTED = 20;
/** How much more a written unit counts than an unwritten one, once its ordinary reading is impossible. @source our default */
const WRITTEN_TRUST = 5;

/** Weighs every column on its own, then holds the columns against one another. */
export function assessed(
  table: Table,
  context: RecognitionContext = {},
): { columns: readonly Assessed[]; origin: Origin } {
  const ambient = ambientOf(context);
  const named = table.columns.map((column) => candidatesOf(readings(column)));
  const origin = fileOrigin(named);
  const columns = table.columns.map((column, index) =>
    weighed({ column, candidates: besideForce(inSurroundings(named[index], origin), named), ambient, context }),
  );
  const held = related(besideManifold(atRest(soaked(columns), ambient), ambient));
  const compared = columns.map((each, index) => ({ ...each, hypotheses: held[index].hypotheses }));
  return { columns: withForceSign(withForceKind(compared)), origin };
}

/** Ambient pressure [Pa]: given, from the altitude, or the standard atmosphere at sea level. @source US Standard Atmosphere 1976, troposphere */
export function ambientOf({ barometricPressure, altitude }: RecognitionContext): number {
  if (barometricPressure !== undefined) return barometricPressure;
  return STANDARD_ATMOSPHERE * (1 - 2.25577e-5 * (altitude ?? 0)) ** 5.25588;
}

interface Weighing {
  readonly column: Column;
  readonly candidates: readonly Candidate[];
  readonly ambient: number;
  readonly context: RecognitionContext;
}

function weighed({ column, candidates: named, ambient, context }: Weighing): Assessed {
  const shape = shapeOf(column);
  const ticking = !countsRows(column, shape) && ticks(column, shape);
  const candidates = ticking ? tickingTime(column, named) : named;
  const [first] = candidates;
  if (first?.meaning === 'time' && column.writing === 'number' && !shape.increasing) {
    const other = weighed({ column, candidates: candidates.slice(1), ambient, context });
    const spoiled = brokenTime(column, shape);
    return spoiled === undefined ? other : { ...other, spoiled };
  }
  if (first && !countsOnly(first) && shape.count >= COUNTED && countsRows(column, shape)) {
    return weighed({ column, candidates: countedRows(candidates), ambient, context });
  }
  if (!first || column.writing === 'text' || column.writing === 'empty') {
    return { column, shape, candidates, hypotheses: [], stated: 'none' };
  }
  const { unit, zero } = first.reading;
  const asked: Asked = { meaning: first.meaning, shape, unit, zero, ambient };
  if (first.meaning === 'time') {
    const [time, ...rest] = candidates;
    const rising = { ...time, score: Math.max(time.score, shape.increasing ? RISING_TIME : 0) };
    return timed({ column, candidates: [rising, ...rest], shape, unit });
  }
  if (MEANINGS[first.meaning].kind === 'lambda') {
    const hypotheses = mixtureHypotheses(first.meaning, shape, context.fuelStoichiometric);
    return { column, shape, candidates, hypotheses, stated: 'none' };
  }
  if (!unit || plainForUnit(first, unit)) {
    return { column, shape, candidates, hypotheses: hypothesesOf({ ...asked, unit: undefined }), stated: 'none' };
  }
  if (!fitsDimension(first.meaning, unit)) {
    return { column, shape, candidates, hypotheses: [bare(first, unit)], stated: 'foreign' };
  }
  if (KINDS[MEANINGS[first.meaning].kind].dimension !== unit.dimension)
    return converted({ column, candidates, shape, unit });
  return inWrittenUnit({ asked, unit, column, candidates });
}

interface Written {
  readonly asked: Asked;
  readonly unit: Unit;
  readonly column: Column;
  readonly candidates: readonly Candidate[];
}

/** The written unit stands when the meaning's own reading of it is possible; otherwise every other unit competes with it. */
function inWrittenUnit({ asked, unit, column, candidates }: Written): Assessed {
  const { shape } = asked;
  const written = hypothesesOf(asked).map((each) => ({
    ...each,
    weight: each.weight === POSSIBLE ? ORDINARY : each.weight,
  }));
  const own = written[0].weight;
  if (own > CONTRADICTED) return { column, shape, candidates, hypotheses: written, stated: 'agrees' };
  const others = hypothesesOf({ ...asked, unit: undefined }).filter((other) => other.unit.symbol !== unit.symbol);
  const trusted = written.map((each) => ({ ...each, weight: each.weight * WRITTEN_TRUST }));
  const best = Math.max(...trusted.map(({ weight }) => weight));
  const rival = Math.max(0, ...others.map(({ weight }) => weight));
  const stated = best > CONTRADICTED * WRITTEN_TRUST && best > 2 * rival ? 'agrees' : 'contradicts';
  return { column, shape, candidates, hypotheses: [...trusted, ...others], stated };
}

interface Stated {
  readonly column: Column;
  readonly candidates: readonly Candidate[];
  readonly shape: Shape;
  readonly unit: Unit | undefined;
}

function timed({ column, candidates, shape, unit }: Stated): Assessed {
  const found = timeHypotheses(column, shape);
  if (unit?.dimension !== 'time') return { column, shape, candidates, hypotheses: found, stated: 'none' };
  const same = found.find((each) => each.unit.symbol === unit.symbol);
  const written: Hypothesis = same ?? { ...found[0], unit, weight: 1 };
  return { column, shape, candidates, hypotheses: [{ ...written, weight: 1 }], stated: 'agrees' };
}

/** A position written in degrees, a dwell in percent: usable only through a full scale that a person names. */
function converted({ column, candidates, shape, unit }: Stated): Assessed {
  const [first] = candidates;
  const fraction = MEANINGS[first.meaning].kind === 'fraction' && unit?.dimension === 'angle';
  const divisor = fraction ? Math.max(1, Math.round(shape.highest)) : 1;
  const hypothesis: Hypothesis = {
    ...bare(first, unitOf('1')),
    divisor,
    because: [`written in ${unit?.symbol ?? ''}`],
  };
  const stated = MEANINGS[first.meaning].kind === 'ratio' ? 'agrees' : 'foreign';
  return { column, shape, candidates, hypotheses: [hypothesis], stated };
}

function bare({ meaning }: Candidate, unit: Unit): Hypothesis {
  return { meaning, unit, zero: undefined, divisor: 1, weight: 1, because: [] };
}

/** `-` or `1` written beside something that has a dimension says nothing; beside a percentage it does not say which. */
function plainForUnit({ meaning }: Candidate, unit: Unit): boolean {
  return unit.symbol === '1' && !usualUnits(meaning).some(([usual]) => usual.symbol === '1');
}

function countsOnly({ meaning }: Candidate): boolean {
  return meaning === 'time' || meaning === 'row-counter';
}
