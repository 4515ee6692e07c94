import type { Alignment } from '../../../day/channels/index.ts';
import type { Conditions, EntryResult, FactorLine, LossFit } from '../../../day/pulls/index.ts';
import type { EntryReport } from '../../../day/reports/index.ts';
import type { Limits } from '../../../day/verdicts/index.ts';
import type { AlignmentView, ConditionsView, EntryView, FactorView, LossView } from '../../contract/index.ts';
import { encodePull, encodeSegment } from './curve.ts';
import { plainFinding, plainMeasured, plainNumber, plainRefusal } from './plain.ts';
import type { PowerChannels } from './power-channels.ts';
import { reasonsOf, standingOf } from './standing.ts';
import { encodeVerdict } from './verdict.ts';

/** The day an entry belongs to, as its page names it. */
export interface DayName {
  readonly id: string;
  readonly title: string;
  readonly invented: string | undefined;
  /** SHA-256 of each log's bytes by its name. */
  readonly sources: ReadonlyMap<string, string>;
  /** Thresholds in force. */
  readonly limits: Limits;
}

export function encodeEntry(day: DayName, entry: EntryReport, channels: PowerChannels): EntryView {
  const { facts, result, sentence, questions, verdicts } = entry;
  const { id, kind, clock, title, files, settings, notes, nudge, rule, excluded, clutch } = facts;
  return {
    ...{ day: day.id, dayTitle: day.title, invented: day.invented },
    ...{ id, kind, clock, title, files: [...files], settings: { ...settings } },
    ...{ notes, nudge, rule, excluded, clutch, sentence },
    standing: standingOf(entry, channels),
    reasons: [...reasonsOf(entry, channels)],
    questions: questions.map(({ file, proposals }) => ({
      file,
      source: day.sources.get(file),
      columns: proposals.map(({ column }) => column),
    })),
    verdicts: verdicts.map((verdict) => encodeVerdict(verdict, day.limits)),
    ...encodeResult(result),
  };
}

function encodeResult(result: EntryResult | undefined) {
  if (!result) return { segments: [], pulls: [], losses: [], findings: [] };
  const { refusal, alignment, conditions, segments, pulls, losses, findings } = result;
  return {
    refusal: refusal && plainRefusal(refusal),
    alignment: alignment && encodeAlignment(alignment),
    conditions: encodeConditions(conditions),
    segments: segments.map(encodeSegment),
    pulls: pulls.map(encodePull),
    losses: losses.map(encodeLoss),
    findings: findings.map(plainFinding),
  };
}

function encodeAlignment({ clock, other, by, correlation, second, pieces }: Alignment): AlignmentView {
  return {
    clock,
    other,
    by,
    correlation: plainNumber(correlation),
    second:
      second && Number.isFinite(second.correlation + second.lag)
        ? { correlation: second.correlation, lag: second.lag }
        : undefined,
    pieces: pieces.map((piece) => ({
      from: plainNumber(piece.from),
      to: plainNumber(piece.to),
      offset: plainNumber(piece.offset),
      rate: plainNumber(piece.rate),
      offsetUncertainty: plainNumber(piece.offsetUncertainty),
      rateUncertainty: plainNumber(piece.rateUncertainty),
      residual: plainNumber(piece.residual),
      lags: piece.lags.filter(({ time, lag }) => Number.isFinite(time + lag)).map(({ time, lag }) => ({ time, lag })),
    })),
  };
}

function encodeConditions(conditions: Conditions): ConditionsView {
  const { temperature, pressure, vapourPressure, origin, factors, findings } = conditions;
  return {
    temperature: plainMeasured(temperature),
    pressure: plainMeasured(pressure),
    vapourPressure: plainMeasured(vapourPressure),
    origin: { temperature: origin.temperature, pressure: origin.pressure, humidity: origin.humidity },
    factors: factors.map(encodeFactor),
    chosen: conditions.chosen.rule,
    findings: findings.map(plainFinding),
  };
}

function encodeFactor({ rule, factor, standardUncertainty, valid, why }: FactorLine): FactorView {
  const finite = (value: number | undefined) => (value !== undefined && Number.isFinite(value) ? value : undefined);
  return { rule, factor: finite(factor), standardUncertainty: finite(standardUncertainty), valid, why };
}

const LOSS_POINTS = 40;

function encodeLoss({ segment, clutch, f0, f1, f2, mass, residual, findings }: LossFit): LossView {
  const step = (segment.highSpeed - segment.lowSpeed) / (LOSS_POINTS - 1);
  const speed = Array.from({ length: LOSS_POINTS }, (_, at) => segment.lowSpeed + at * step);
  return {
    segment: encodeSegment(segment),
    clutch,
    f0: plainMeasured(f0),
    f1: plainMeasured(f1),
    f2: plainMeasured(f2),
    mass: plainMeasured(mass),
    residual: plainNumber(residual),
    speed: speed.map(plainNumber),
    force: speed.map((v) => plainNumber(f0.value + f1.value * v + f2.value * v * v)),
    findings: findings.map(plainFinding),
  };
}
