import type { Detection } from '../../detector.ts';
import type { Fault, Subject } from '../../fault.ts';
import { type Span, windowsMeet } from '../look-alikes.ts';
import type { Items } from '../model.ts';

/** What a detection leaves behind for learning. items: answers about its windows; there when it was seen. */
export interface SaidSample {
  readonly fault: Fault;
  readonly subject: Subject;
  readonly answer: Detection['answer'];
  readonly strength: number;
  readonly windows: readonly Span[];
  readonly lookAlikes: readonly Fault[];
  /** Channels that the detector lacked. */
  readonly missing?: readonly string[];
  readonly items?: Items;
}

/** A fault that was put in on purpose, and where [s] on the record's clock. */
export interface TrueFault extends Span {
  readonly fault: Fault;
  readonly strength: number;
}

/** One pull of an invented day: what was really there, and what the detectors said. day: pulls of one day are learnt from or tested on together. */
export interface PullSample {
  readonly day: string;
  readonly seed: number;
  readonly pull: string;
  readonly decoy: boolean;
  readonly truths: readonly TrueFault[];
  readonly said: readonly SaidSample[];
}

/** True when a fault was really in the pull, in one of the windows or near them. */
export function wasThere({ truths }: PullSample, fault: Fault, windows: readonly Span[]): boolean {
  return truths.some((truth) => truth.fault === fault && windowsMeet([truth], windows));
}
