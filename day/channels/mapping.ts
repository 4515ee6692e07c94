import type { Channel } from './channel.ts';
import type { Meaning } from './meanings.ts';

/** What we believe about one column, and why. */
export interface Proposal {
  readonly column: string;
  readonly meaning: Meaning;
  readonly position?: string;
  /** Symbol of the unit table. */
  readonly unit: string;
  /**
   * What the written numbers are divided by before the unit counts: 14.7 when an air-fuel ratio is to be lambda, 84 when a throttle
   * is written in degrees of 84. Absent: 1.
   */
  readonly divisor?: number;
  /** From where a written pressure counts, when that is not where the meaning's kind counts from; ambient pressure bridges the two. */
  readonly zero?: 'vacuum' | 'ambient';
  readonly origin: Channel['origin'];
  /** 0…1. */
  readonly confidence: number;
  /** Plain words: what spoke for it (name, unit, range, a physical cross-check). */
  readonly reason: string;
  /** Other readings worth offering, best first. */
  readonly alternatives: readonly Alternative[];
  /** Set when a person must decide; the sentence to ask. Without an answer the column is not used. */
  readonly question?: string;
}

export interface Alternative {
  readonly meaning: Meaning;
  readonly unit: string;
  readonly divisor?: number;
  readonly zero?: 'vacuum' | 'ambient';
  readonly confidence: number;
  readonly reason: string;
}

/** One decided column: used to turn samples into SI. `meaning: unknown` keeps the column as an unnamed number. */
export interface ColumnMapping {
  readonly column: string;
  readonly meaning: Meaning;
  readonly position?: string;
  readonly unit: string;
  readonly divisor?: number;
  readonly zero?: 'vacuum' | 'ambient';
  readonly origin?: Channel['origin'];
  /** Set by a person; a proposal above the bar is used without asking and says so. */
  readonly confirmed: boolean;
}

/** Decided columns of one set of column names. Remembered under `columnSet`. */
export interface Mapping {
  /** SHA-256, hex, of the column names and units as written, in order. */
  readonly columnSet: string;
  readonly columns: readonly ColumnMapping[];
}
