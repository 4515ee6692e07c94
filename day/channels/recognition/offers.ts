import { KINDS, STANDARD_ATMOSPHERE } from '../../../core/quantities/index.ts';
import type { Alternative } from '../mapping.ts';
import { MEANINGS } from '../meanings.ts';
import type { Assessed } from './assessed.ts';
import { BAR, CEILING } from './bar.ts';
import type { Candidate } from './candidates.ts';
import { type Hypothesis, ORDINARY, ownZero, plausibility } from './hypotheses.ts';
import { rangedMeanings } from './ranges.ts';
import { countsRows, fallsBack } from './time-column.ts';

/** What a unit that contradicts the numbers, and one of a foreign dimension, leave of the confidence. @source our default */
const CONTRADICTION = 0.3;
/** What stays of a meaning that explains only some of the words that the best one explains. @source our default */
const SAYS_LESS = 0.5;
/** Confidence in a meaning that only the range speaks for. @source our default */
const FITS = 0.2;
/** Alternatives offered, best first. */
export const OFFERED = 5;

/** Every reading of meaning and unit with its share of the confidence, best first. */
export function offersOf({ candidates, hypotheses, stated, column, shape }: Assessed): readonly Alternative[] {
  const [first, ...rest] = candidates;
  const total = hypotheses.reduce((sum, { weight }) => sum + weight, 0);
  const scale = stated === 'contradicts' || stated === 'foreign' ? CONTRADICTION : 1;
  const counting = first.meaning === 'time' && countsRows(column, shape) && stated === 'none' ? 0.6 : 1;
  const own = hypotheses.map((hypothesis) => ({
    ...reading(hypothesis),
    confidence: rounded(CEILING * first.score * scale * counting * (total > 0 ? hypothesis.weight / total : 0)),
    reason: reasonFor({ candidates, stated, hypothesis, column }),
  }));
  const merged = own
    .toSorted((a, b) => b.confidence - a.confidence)
    .filter(({ confidence }, i) => i === 0 || confidence > 0.01);
  const other = rest.slice(0, OFFERED).map((candidate) => ({
    meaning: candidate.meaning,
    unit: candidate.reading.unit?.symbol ?? merged[0]?.unit ?? '1',
    confidence: rounded(CEILING * candidate.score * (saysLess(candidate, first) ? SAYS_LESS : 1) * (total > 0 ? 1 : 0)),
    reason: `the words ${candidate.words.join(' + ')} also fit`,
  }));
  const fitting = first.score < BAR ? fittingMeanings({ candidates, hypotheses, shape }) : [];
  const later = [...merged.slice(1), ...other, ...fitting].toSorted((a, b) => b.confidence - a.confidence);
  const wrong = stated === 'contradicts' && fitting.length > 0;
  return wrong ? [...fitting, merged[0], ...later.filter((each) => !fitting.includes(each))] : [merged[0], ...later];
}

/** Other meanings of the same kind whose range the numbers fit: offered when the name says too little. */
function fittingMeanings({
  candidates,
  hypotheses,
  shape,
}: Pick<Assessed, 'candidates' | 'hypotheses' | 'shape'>): readonly Alternative[] {
  const { unit } = candidates[0].reading;
  if (!unit || hypotheses.length === 0) return [];
  const named = new Set(candidates.map(({ meaning }) => meaning));
  return rangedMeanings
    .filter((meaning) => !named.has(meaning) && KINDS[MEANINGS[meaning].kind].dimension === unit.dimension)
    .filter(
      (meaning) =>
        plausibility({ meaning, shape, unit, zero: ownZero(meaning), ambient: STANDARD_ATMOSPHERE }) === ORDINARY,
    )
    .slice(0, OFFERED)
    .map((meaning) => ({
      meaning,
      unit: unit.symbol,
      confidence: FITS,
      reason: 'the values fit, the name does not say',
    }));
}

function saysLess(candidate: Candidate, first: Candidate): boolean {
  return candidate.words.length < first.words.length && candidate.words.every((word) => first.words.includes(word));
}

interface Reasoned {
  readonly candidates: Assessed['candidates'];
  readonly stated: Assessed['stated'];
  readonly hypothesis: Hypothesis;
  readonly column: Assessed['column'];
}

/** What the numbers say of a column whose name says nothing. */
function unnamedText({ meaning }: Hypothesis): string {
  return meaning === 'time' ? 'goes on from row to row' : 'goes up by exactly one per row';
}

function reasonFor({ candidates, stated, hypothesis, column }: Reasoned): string {
  const [{ words, reading: name }] = candidates;
  const falls = hypothesis.meaning === 'time' ? fallsBack(column) : 0;
  const parts = [
    words.length > 0 ? `name says ${words.join(' + ')}` : unnamedText(hypothesis),
    ...(name.unknown.length > 0 ? [`not understood: ${name.unknown.join(', ')}`] : []),
    ...(stated === 'agrees' ? [`unit ${name.unitText} written`] : []),
    ...(stated === 'contradicts' ? [`the written unit ${name.unitText} does not fit the values`] : []),
    ...(stated === 'foreign' ? [`${name.unitText} is no unit of this quantity`] : []),
    ...(hypothesis.divisor === 1 ? [] : [`divided by ${hypothesis.divisor}`]),
    ...hypothesis.because,
    ...(falls > 0 ? [`falls back ${falls} times: wraps around, or the clock was set`] : []),
  ];
  return parts.join('; ');
}

function reading({
  meaning,
  unit,
  zero,
  divisor,
}: Hypothesis): Pick<Alternative, 'meaning' | 'unit' | 'zero' | 'divisor'> {
  const bridged = zero !== undefined && zero !== ownZero(meaning);
  return { meaning, unit: unit.symbol, ...(bridged ? { zero } : {}), ...(divisor === 1 ? {} : { divisor }) };
}

function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}
