import type { Finding } from '../../core/quantities/index.ts';
import type { Meaning } from '../channels/index.ts';
import type { PullResult } from '../pulls/index.ts';
import type { Detection, Fault, FaultWindow, StopClass, Voids } from './detector.ts';
import type { PullScene } from './scene/scene.ts';
import type { Separation } from './separation.ts';
import type { Limits } from './thresholds.ts';

/** How much of a pull's power can be used. */
export type Validity = 'valid' | 'valid in windows' | 'void';

/**
 * One cause that could explain an occurrence.
 * probability: that this fault was there, given everything that was looked at, 0 … 1; calibrated on invented engines. Several can be there at once.
 */
export interface Hypothesis {
  readonly fault: Fault;
  readonly probability: number;
  readonly detection: Detection;
  /** What spoke for it (weight > 0) and against it (< 0), the strongest first; weight: natural logarithm of the likelihood ratio. */
  readonly evidence: readonly Evidence[];
}

export interface Evidence {
  readonly what: string;
  readonly weight: number;
}

/** Two causes that this log cannot tell apart, and the channels that would. */
export interface Inseparable {
  readonly one: Fault;
  readonly other: Fault;
  readonly without: readonly Meaning[];
}

/** What to do next to part the leading cause from its runner-up, or to confirm it: a key of the list of checks and the faults it parts. */
export interface NextCheck {
  readonly check: string;
  readonly parts: readonly Fault[];
}

/** Something that went wrong in some windows of a pull, with what may have caused it: the most probable first. */
export interface Occurrence {
  readonly windows: readonly FaultWindow[];
  readonly hypotheses: readonly Hypothesis[];
  readonly separation: Separation;
  readonly inseparable: readonly Inseparable[];
  readonly next: NextCheck | undefined;
  readonly stopClass: StopClass;
  readonly voids: Voids;
  /** Channel that is at fault, by its name in the log. */
  readonly channel?: string;
  /** Set when a person overruled it: why. It then makes nothing void and stops nothing. */
  readonly overruled?: string;
}

/** Was one pull clean, and what spoiled it. */
export interface PullVerdict {
  readonly entry: string;
  /** Which of the entry's pulls, from 0. */
  readonly index: number;
  readonly validity: Validity;
  /** Where power is not used [s] on the record's clock. */
  readonly voidWindows: readonly FaultWindow[];
  readonly stopClass: StopClass;
  /** Worst first. Those that a person overruled stand last. */
  readonly occurrences: readonly Occurrence[];
  /** Everything every detector said. */
  readonly detections: readonly Detection[];
  /** The pull without the power in void windows. */
  readonly pull: PullResult;
}

/** What a verdict is made from. */
export interface VerdictInput {
  readonly scene: PullScene;
  readonly index: number;
  readonly limits: Limits;
  /** Fault → reason of a person. */
  readonly overruled?: Readonly<Record<string, string>> | undefined;
  /** Standard uncertainty of the ambient factor [1]. */
  readonly factorSpread?: number | undefined;
}

/** The verdicts of a day, pull by pull in the order of the day. */
export interface DayVerdicts {
  readonly pulls: readonly PullVerdict[];
  /** What each verdict was made from, in the same order, so that it can be asked again with other thresholds. */
  readonly asked: readonly VerdictInput[];
  readonly findings: readonly Finding[];
}
