import { answered, type Finding, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import type { Alignment, ClockPiece } from '../alignment.ts';
import type { Recording } from '../channel.ts';
import type { AlignOptions } from './align-options.ts';
import { type GroupPeaks, groupPeaks, type SmoothPair, smoothPair } from './coarse.ts';
import { type Joint, jointFit, type SecondLag, toldApart } from './joint-fit.ts';
import { NEARLY } from './lagged.ts';
import { matchedGroups } from './matched-groups.ts';
import { signalPairs } from './pairing.ts';
import { changeOf, LEAST_CHANGE } from './signal.ts';

/** Smallest correlation of the rates of change that is believed. @source our default */
export const LEAST_CORRELATION = 0.6;
/** Below {@link LEAST_CORRELATION} but above this one, the fit of the speeds must speak for it (many gear changes, a converter). @source our default */
const WEAK_CORRELATION = 0.3;
/** Share of the moving samples that the fit must explain to confirm a weak correlation. @source our default */
const LEAST_EXPLAINED = 0.6;
/** A pair of speeds that gives the offset this well [s] needs no other; engine speed is asked first. @source our default */
const GOOD_OFFSET = 0.015;
/** An offset known worse than this is no answer [s]. @source our default */
const WORST_OFFSET = 0.25;

/**
 * Clock of the engine log against the clock of the roller: t_engine = offset + (1 + rate)·t_roller, piece by piece.
 *
 * Coarse: normalised correlation of the rates of change over all lags. Fine: {@link speedFit}. A gap keeps the clock when both
 * sides agree within their uncertainty; a clock that was set starts a piece of its own. `offsetUncertainty` is that of the mapped
 * time in the middle of the piece, not of the number at t = 0, which the rate carries far away.
 *
 * Refuses (`ambiguous-alignment`) when no speed varies, the best correlation is below 0.6, a second hill more than 0.1 s away
 * comes within 3 % and the fit cannot tell them apart, the top is flat, or the offset stays unknown by more than 0.25 s;
 * (`missing-channel`) when the logs share nothing.
 *
 * @valid   1 Hz to 1 kHz. Equal lags of both speed sensors cannot be told from the offset
 */
export function alignClocks(roller: Recording, engine: Recording, options: AlignOptions = {}): Outcome<Alignment> {
  const pairs = signalPairs(roller, engine, options.converter);
  let refusal: Refusal = {
    kind: 'missing-channel',
    message: 'missing channel: no speed, force or throttle that both logs could share',
    place: { file: engine.file },
  };
  let best: Outcome<Alignment> | undefined;
  for (const pair of pairs) {
    // Sudden changes are asked only where no speeds agree, and never to settle two lags that fit the speeds alike.
    if (pair.by === 'events' && (best !== undefined || refusal.numbers?.['secondLag'] !== undefined)) break;
    const outcome = alignedBy(smoothPair(pair), { roller, engine, options });
    if (!outcome.ok) {
      if (refusal.kind === 'missing-channel') refusal = outcome.refusal;
      continue;
    }
    if (worstOffset(outcome.value) <= GOOD_OFFSET) return outcome;
    if (best === undefined || (best.ok && worstOffset(outcome.value) < worstOffset(best.value))) best = outcome;
  }
  return best ?? refused(refusal);
}

function worstOffset({ pieces }: Alignment): number {
  return Math.max(...pieces.map(({ offsetUncertainty }) => offsetUncertainty));
}

interface Context {
  readonly roller: Recording;
  readonly engine: Recording;
  readonly options: AlignOptions;
}

function alignedBy(smooth: SmoothPair, context: Context): Outcome<Alignment> {
  const steady = steadiness(smooth);
  if (steady !== undefined) return refused({ ...steady, place: { file: context.engine.file } });
  const findings: Finding[] = [];
  const chosen = chosenPeak(smooth, context, findings);
  if (!chosen.ok) return chosen;
  const { best, second } = chosen.value;
  const matches = matchedGroups(smooth, best, findings);
  const joint = jointFit(smooth, matches, { roller: context.roller, options: context.options, findings });
  const confirmed = joint.fit !== undefined && joint.fit.explained >= LEAST_EXPLAINED;
  if (best.correlation < LEAST_CORRELATION && !confirmed) return tooWeak(best, context);
  const pieces = isThroughConverter(smooth, context) ? joint.pieces.map(lessSure) : joint.pieces;
  const worst = Math.max(...pieces.map((piece) => piece.offsetUncertainty));
  if (!(worst <= WORST_OFFSET) || joint.pieces.length === 0) {
    return ambiguous('ambiguous alignment: offset unknown', context, { offsetUncertainty: worst, limit: WORST_OFFSET });
  }
  return answered(alignmentOf({ best, second, joint: { ...joint, pieces }, smooth }, context), findings);
}

/** What a converter's slip leaves open in the offset [s]. @source our default, measured on invented days: 0.26 s at worst */
const BY_CONVERTER = 0.12;

/** Engine speed behind a converter: its slip follows torque and passes for a lag. */
function isThroughConverter({ pair }: SmoothPair, { options }: Context): boolean {
  return options.converter === true && pair.other.meaning === 'engine-speed' && pair.own.meaning !== 'engine-speed';
}

function lessSure(piece: ClockPiece): ClockPiece {
  const length = Math.max(1, piece.to - piece.from);
  return {
    ...piece,
    offsetUncertainty: Math.hypot(piece.offsetUncertainty, BY_CONVERTER),
    rateUncertainty:
      piece.rate === 0 ? piece.rateUncertainty : Math.hypot(piece.rateUncertainty, BY_CONVERTER / length),
  };
}

interface ChosenPeak {
  readonly best: GroupPeaks;
  readonly second: SecondLag | undefined;
}

/** The hill to believe: high and alone, or the one of two that the fit of the speeds itself speaks for. */
function chosenPeak(smooth: SmoothPair, context: Context, findings: Finding[]): Outcome<ChosenPeak> {
  const all = everyPeak(smooth);
  const best = all[0];
  if (best === undefined || !(best.correlation >= WEAK_CORRELATION)) return tooWeak(best, context);
  const second = secondOf(all);
  const weak = best.correlation < LEAST_CORRELATION;
  const near = second !== undefined && second.correlation >= NEARLY * best.correlation;
  if (!weak && !near) return answered({ best, second });
  if (second === undefined) return tooWeak(best, context);
  const winner = toldApart(smooth, best, second);
  if (winner === undefined && near) return twoAlike(best, second, context);
  if (winner === undefined) return tooWeak(best, context);
  if (weak) findings.push(weakCorrelation(best, second, context));
  if (near) findings.push(closeSecond(best, second, context));
  if (winner === 'second' && second.correlation < WEAK_CORRELATION) return tooWeak(best, context);
  if (winner === 'best') return answered({ best, second });
  const [first, other] = swapped(best, second);
  return answered({ best: first, second: other });
}

/** Only engine speed over roll speed shows growth and creep: a wheel turns with its tyre. */
function tyreOf({ fit }: Joint, { pair }: SmoothPair): Pick<Alignment, 'tyre'> {
  if (fit === undefined || pair.other.meaning !== 'engine-speed' || pair.own.meaning === 'engine-speed') return {};
  return {
    tyre: {
      growth: { value: fit.growth, standardUncertainty: fit.growthUncertainty },
      creep: { value: fit.creep, standardUncertainty: fit.creepUncertainty },
    },
  };
}

function tooWeak(best: GroupPeaks | undefined, context: Context): Outcome<never> {
  const correlation = best?.correlation ?? 0;
  return ambiguous('invalid correlation', context, { correlation, limit: LEAST_CORRELATION });
}

function twoAlike(best: GroupPeaks, second: SecondLag, context: Context): Outcome<never> {
  return ambiguous('ambiguous alignment: two lags fit alike', context, {
    correlation: best.correlation,
    lag: best.lag,
    second: second.correlation,
    secondLag: second.lag,
    limit: NEARLY,
  });
}

function alignmentOf(
  {
    best,
    second,
    joint,
    smooth,
  }: { best: GroupPeaks; second: SecondLag | undefined; joint: Joint; smooth: SmoothPair },
  { roller, engine }: Context,
): Alignment {
  return {
    clock: roller.clock.name,
    other: engine.clock.name,
    pieces: joint.pieces,
    correlation: best.correlation,
    second: second && { correlation: second.correlation, lag: second.lag },
    by: 'speed',
    ...tyreOf(joint, smooth),
  };
}

/** Hills of every group against every other, best first. */
function everyPeak(smooth: SmoothPair): GroupPeaks[] {
  const groups = (pieces: SmoothPair['own']): number[] => [...new Set(pieces.map((piece) => piece.group))];
  const others = groups(smooth.other);
  const peaks = groups(smooth.own).flatMap((own) =>
    others.flatMap((other) => groupPeaks(smooth, { own, other }) ?? []),
  );
  return peaks.sort((a, b) => b.correlation * strength(b) - a.correlation * strength(a));

  function strength(peak: GroupPeaks): number {
    const length = (pieces: SmoothPair['own'], group: number): number =>
      pieces.reduce((sum, piece) => sum + (piece.group === group ? piece.end - piece.start : 0), 0);
    return Math.sqrt(Math.min(length(smooth.own, peak.ownGroup), length(smooth.other, peak.otherGroup)));
  }
}

/** The best other hill: in the same group, or the same stretch of the roller in another stretch of the engine log. */
function secondOf(all: readonly GroupPeaks[]): SecondLag | undefined {
  const [best, ...rest] = all;
  const elsewhere = rest
    .filter((peak) => peak.ownGroup === best.ownGroup && peak.otherGroup !== best.otherGroup)
    .map((peak) => ({ lag: peak.lag, correlation: peak.correlation, otherGroup: peak.otherGroup }));
  const own = best.second ? [{ ...best.second, otherGroup: best.otherGroup }] : [];
  return [...own, ...elsewhere].sort((a, b) => b.correlation - a.correlation)[0];
}

function swapped(best: GroupPeaks, second: SecondLag): [GroupPeaks, SecondLag] {
  const { lag, correlation, otherGroup } = best;
  return [
    { ...best, ...second, sameHill: [] },
    { lag, correlation, otherGroup },
  ];
}

function steadiness({ pair }: SmoothPair): Refusal | undefined {
  for (const signal of [pair.own, pair.other]) {
    const change = changeOf(signal);
    if (change >= LEAST_CHANGE) continue;
    return {
      kind: 'ambiguous-alignment',
      message: `ambiguous alignment: ${signal.name} does not vary`,
      numbers: { change: Number.isFinite(change) ? change : 0, limit: LEAST_CHANGE, channel: signal.name },
      rule: 'our default',
    };
  }
  return undefined;
}

function ambiguous(message: string, context: Context, numbers: Record<string, number>): Outcome<never> {
  return refused({
    kind: 'ambiguous-alignment',
    message,
    place: { file: context.engine.file },
    numbers,
    rule: 'best correlation at least 0.6; second at most 97 % of it when more than 0.1 s away',
  });
}

function weakCorrelation(best: GroupPeaks, second: SecondLag, context: Context): Finding {
  return {
    kind: 'weak-correlation',
    weight: 'doubt',
    message:
      'the rates of change agree only in part (gear changes, converter, clutch); the fit of the speeds confirms the lag',
    place: { file: context.engine.file },
    numbers: {
      correlation: best.correlation,
      limit: LEAST_CORRELATION,
      second: second.correlation,
      secondLag: second.lag,
    },
    rule: 'our default',
  };
}

function closeSecond(best: GroupPeaks, second: SecondLag, context: Context): Finding {
  return {
    kind: 'close-second-lag',
    weight: 'note',
    message: 'a second lag correlates nearly as well; the fit of the speeds tells them apart',
    place: { file: context.engine.file },
    numbers: { correlation: best.correlation, second: second.correlation, secondLag: second.lag },
  };
}
