import type { Finding, Measured, Refusal } from '../../core/quantities/index.ts';
import type { Alignment } from '../channels/index.ts';
import type { BudgetLine, Peak, PowerCurve } from './curve.ts';
import type { AmbientRuleName } from './facts.ts';
import type { Segment } from './segment.ts';

/** What one full-load pull made. An entry's files may hold several. */
export interface PullResult {
  readonly segment: Segment;
  readonly curve: PowerCurve;
  readonly peaks: readonly Peak[];
  readonly budget: readonly BudgetLine[];
  /** Set when no power can be claimed from this pull; the curve then holds what is known without it. */
  readonly refusal?: Refusal;
  readonly findings: readonly Finding[];
}

/** Losses from one coast-down: force F0 + F1·v + F2·v² [N] at the roll surface, with the mass that was used. */
export interface LossFit {
  readonly segment: Segment;
  readonly clutch: 'open' | 'in gear' | 'unknown';
  readonly f0: Measured;
  readonly f1: Measured;
  readonly f2: Measured;
  /** Mean speed of the values [m/s] and the force there: level and slope are nearly uncorrelated about it. */
  readonly middle: { readonly speed: number; readonly force: Measured };
  readonly mass: Measured;
  /** Root mean square of the force left over [N]. */
  readonly residual: number;
  readonly findings: readonly Finding[];
}

/** State of the air during an entry, and where each value came from. */
export interface Conditions {
  readonly temperature: Measured | undefined;
  readonly pressure: Measured | undefined;
  readonly vapourPressure: Measured | undefined;
  readonly origin: Readonly<Record<'temperature' | 'pressure' | 'humidity', string>>;
  readonly factors: readonly FactorLine[];
  /** The line of the rule that is in force for this entry; `none` unless one was chosen. */
  readonly chosen: FactorLine;
  readonly findings: readonly Finding[];
}

/** One rule's factor for these conditions, shown beside the others; `valid` says whether the rule allows itself to be used here. */
export interface FactorLine {
  readonly rule: AmbientRuleName;
  readonly factor: number | undefined;
  readonly standardUncertainty: number | undefined;
  readonly valid: boolean;
  readonly why: string;
}

/** Everything computed for one entry of the day. */
export interface EntryResult {
  readonly id: string;
  readonly alignment: Alignment | undefined;
  readonly refusal?: Refusal;
  readonly segments: readonly Segment[];
  readonly conditions: Conditions;
  readonly pulls: readonly PullResult[];
  readonly losses: readonly LossFit[];
  readonly findings: readonly Finding[];
}
