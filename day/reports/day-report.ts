import type { Finding } from '../../core/quantities/index.ts';
import type { Proposal } from '../channels/index.ts';
import type { DayFacts, EntryFacts, EntryResult } from '../pulls/index.ts';
import type { PullVerdict } from '../verdicts/index.ts';

/** One entry of the day with its facts, its result and its sentence. */
export interface EntryReport {
  readonly facts: EntryFacts;
  /** Its pulls without the power of void windows, once there are verdicts. */
  readonly result: EntryResult | undefined;
  /** Was each of its pulls clean, in their order; empty until the day was judged, and for what is no pull. */
  readonly verdicts: readonly PullVerdict[];
  /** One sentence in plain words: what it made, with uncertainty, or why that cannot be said. */
  readonly sentence: string;
  /** Columns that wait for a person's decision, per file. */
  readonly questions: readonly { readonly file: string; readonly proposals: readonly Proposal[] }[];
  /** Its logs that could not be read; absent when all could. */
  readonly unread?: readonly UnreadLog[];
}

/** A log that is named by an entry and is no part of its answer, and why. */
export interface UnreadLog {
  readonly file: string;
  readonly why: string;
}

/** A whole day as data: rendered as page, text or JSON elsewhere. */
export interface DayReport {
  readonly facts: DayFacts;
  readonly entries: readonly EntryReport[];
  readonly findings: readonly Finding[];
  readonly cautions: readonly string[];
  /** Version of the method: part of every cache key. */
  readonly method: string;
}
