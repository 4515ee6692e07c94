import { KEPT_TRACTION } from '../../../../core/physics/index.ts';
import { formatQuantity, type Measured, type QuantityKind } from '../../../../core/quantities/index.ts';
import { type StrapAdvice, type TractionAdvice, WANTED_RESERVE } from '../../../../day/plans/index.ts';
import type { AdviceRow, TractionView } from '../../../contract/index.ts';
import { inWords } from '../limit-words.ts';
import { plainMeasured, plainNumber } from '../plain.ts';
import { unknownFacts } from '../unknown-facts.ts';
import { LOSSLESS } from './rolls.ts';

type Told = Exclude<TractionAdvice, { kind: 'unknown' }>;

/** Straps and ballast in sentences and numbers. */
export function encodeTraction(advice: TractionAdvice, kept: number = KEPT_TRACTION): TractionView {
  const unknown = unknownFacts({ missing: advice.unknown, assumed: advice.assumed });
  if (advice.kind === 'unknown') {
    const sentence = `Whether the tyres hold, and what straps or ballast it takes, cannot be told: ${inWords(advice.why)}.`;
    return { ...{ kind: 'unknown', kept, sentence, unknown }, rows: [], notes: [], cautions: [...CAUTIONS] };
  }
  const missing = plainMeasured(advice.missing);
  return {
    ...{ kind: advice.kind, kept: advice.kept, speed: advice.speed, sentence: sentenceOf(advice), unknown },
    ...(missing && { missing }),
    rows: rowsOf(advice),
    notes: notesOf(advice),
    cautions: [...CAUTIONS],
  };
}

/** @source common practice, no source */
const CAUTIONS = [
  'Straps and anchors have ratings of their own, and the site its rules: they go first. A strap or an anchor that lets go can kill; nobody stands in line with one.',
  'Straps bed in: draw them up again after the first pull, and note the tension, for it is part of the configuration: each kN costs 0.3 to 1 % of the force (common practice, no source).',
] as const;

function sentenceOf(advice: Told): string {
  const { kind, kept, driving, limit, missing, safe, ballast, largestRatio } = advice;
  const where = `near ${formatQuantity(advice.speed, 'engine-speed')}`;
  const share = formatQuantity(kept, 'fraction', { decimals: 0 });
  if (kind === 'holds') {
    const surely = safe > 0 ? ` To hold nineteen times of twenty, ${force(safe)} more must press on them.` : '';
    return `The tyres hold with ${share} of their limit in hand: ${band(driving, 'force')} are asked ${where}, ${band(limit, 'force')} hold; ${band({ ...missing, value: -missing.value }, 'force')} of load are to spare.${surely}`;
  }
  const more = `${band(missing, 'force')} more (nineteen times of twenty ${force(safe)})`;
  if (kind === 'load')
    return `To keep ${share} of the tyres’ limit in hand ${where}, ${more} must press on the driven axle: by straps, or ${band(ballast, 'mass')} of ballast over it.`;
  const gear =
    largestRatio === undefined
      ? 'a higher gear asks less of the tyres'
      : `an overall ratio of ${ratioText(largestRatio)} or less asks no more than they hold now`;
  return `No sensible load makes the tyres hold with ${share} of their limit in hand: ${where} it would take ${more}. Take a higher gear instead: ${gear}.`;
}

function rowsOf(advice: Told): AdviceRow[] {
  const { kind, missing, safe, ballast, safeBallast, contact, straps, largestRatio } = advice;
  const wanted = kind !== 'holds' || safe > 0;
  const more = { ...missing, value: Math.max(0, missing.value) };
  return [
    row('pull of the straps downwards now', 'force', contact.straps),
    ...(wanted
      ? [
          row('more load on the driven axle', 'force', { ...more, safe }),
          row('or ballast over the driven axle', 'mass', { ...ballast, safe: safeBallast }),
        ]
      : []),
    ...(straps ? strapRows(straps, wanted) : []),
    ...(wanted && largestRatio !== undefined
      ? [
          row('or, with nothing added, an overall ratio of at most', 'ratio', {
            value: largestRatio,
            standardUncertainty: 0,
          }),
        ]
      : []),
  ];
}

function strapRows({ count, now, wanted, safe, rearward, underDrive }: StrapAdvice, wantsMore: boolean): AdviceRow[] {
  const each = count === 1 ? 'tension of the strap' : `tension of each of ${count} straps`;
  const exactly = (value: number): Measured => ({ value, standardUncertainty: 0 });
  return [
    row(`${each} now`, 'force', now),
    ...(wantsMore ? [row(`${each} then`, 'force', { ...wanted, safe })] : []),
    ...(underDrive === undefined
      ? []
      : [row(`${each} under drive, the other end strapped alike`, 'force', exactly(underDrive))]),
    ...(rearward === undefined ? [] : [row('pull of the straps along the vehicle', 'force', exactly(rearward))]),
  ];
}

interface Numbers extends Measured {
  readonly safe?: number;
}

function row(title: string, kind: QuantityKind, { value, standardUncertainty, safe = Number.NaN }: Numbers): AdviceRow {
  return {
    ...{ title, kind, value: plainNumber(value), safe: plainNumber(safe) },
    standardUncertainty: plainNumber(standardUncertainty),
  };
}

function notesOf({ kind, straps, most, safe, missing, lossless }: Told): string[] {
  const notes: string[] = lossless ? [LOSSLESS] : [];
  const border = most.stated
    ? `the axle may carry ${force(most.load)} more, as stated`
    : `${force(most.load)} more double the axle’s own load, and more than that we call not sensible (our default; state axle load limit)`;
  if (kind === 'too much') notes.push(`${capital(border)}.`);
  else if (safe > most.load)
    notes.push(`What holds nineteen times of twenty is more than is sensible: ${border}. A higher gear asks less.`);
  if (!straps) {
    if (kind !== 'holds' || safe > 0)
      notes.push('What each strap must pull cannot be told: state strap count and strap angle.');
    return notes;
  }
  if (!Number.isFinite(straps.wanted.value) || (!Number.isFinite(straps.safe) && missing.value <= 0))
    notes.push('The straps lie flat: however tight, they do not press the tyres down.');
  if (straps.angle > STEEP)
    notes.push(
      `Straps at ${formatQuantity(straps.angle, 'angle', { decimals: 0 })} press down well and hold little along the vehicle: 45° or flatter is usual for that (common practice, no source).`,
    );
  return [...notes, ...ratingNotes(straps)];
}

/** [rad] @source common practice, no source: 45° or flatter */
const STEEP = 0.79;

function ratingNotes({ rating, reserve, underDrive, wanted }: StrapAdvice): string[] {
  if (rating === undefined || reserve === undefined)
    return ['Straps and anchors were not held against their rating: state strap rating.'];
  const carried = Math.max(wanted.value, underDrive ?? 0);
  const times = `${force(rating)} is ${reserve.toFixed(1)} times the ${force(carried)} that it carries then`;
  if (reserve < 1)
    return [`The rating of a strap or anchor is passed: ${force(rating)} against ${force(carried)}. Do not pull so.`];
  return reserve < WANTED_RESERVE
    ? [
        `A strap or anchor has too little in hand: its rating of ${times}; twice is wanted (common practice, no source).`,
      ]
    : [`The rating of a strap or anchor of ${times}; twice is wanted (common practice, no source).`];
}

/** Value with two standard uncertainties. */
function band({ value, standardUncertainty }: Measured, kind: QuantityKind): string {
  return formatQuantity(value, kind, {
    decimals: 0,
    ...(standardUncertainty > 0 && { standardUncertainty: 2 * standardUncertainty }),
  });
}

function force(value: number): string {
  return formatQuantity(value, 'force');
}

function ratioText(value: number): string {
  return formatQuantity(value, 'ratio', { decimals: 2 });
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
