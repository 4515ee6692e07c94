import type { Finding, Outcome, Refusal } from '../../core/quantities/index.ts';
import type { Mapping, Proposal, Table, TableFormat } from '../../day/channels/index.ts';
import type { EngineModel, Observation, Step } from '../../day/plans/index.ts';
import type { DayFacts, EntryLogs, JoinedRecord } from '../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../day/reports/index.ts';
import type { DayHealth, PullVerdict } from '../../day/verdicts/index.ts';
import type { ExportFormat } from '../files/index.ts';
import type { ExportedPart } from './export-entry.ts';

/** A day as the list of days shows it. */
export interface DaySummary {
  readonly id: string;
  readonly title: string;
  readonly date: string | undefined;
  readonly folder: string | undefined;
  readonly entries: number;
  readonly invented: boolean;
}

/** A file that was brought in: what it holds, what we believe about its columns, what we must ask. */
export interface FileReading {
  readonly source: string;
  readonly file: string;
  readonly bytes: number;
  readonly table: Pick<Table, 'rows' | 'preamble' | 'findings'> & { readonly format: TableFormat | SoundFormat };
  /** [] for a sound: nothing in it needs a meaning. */
  readonly columns: readonly ColumnReading[];
  readonly columnSet: string;
  /** A mapping that was confirmed before for this set of columns. */
  readonly remembered: boolean;
  readonly findings: readonly Finding[];
}

/** A recording of sound. recordedRate: samples per second as recorded [Hz]. */
export interface SoundFormat {
  readonly kind: 'sound';
  readonly seconds: number;
  readonly tracks: number;
  readonly recordedRate: number;
}

export interface ColumnReading {
  readonly name: string;
  readonly unit: string;
  readonly proposal: Proposal;
  readonly low: number;
  readonly high: number;
  readonly missing: number;
  /** Up to 120 values spread over the file, for a small picture; NaN where missing. */
  readonly sketch: readonly number[];
}

/**
 * The engine of a day as far as its parts and its clean pulls tell, and the step that was driven last: pull without an answer leaves
 * the pressure of the surrounding air. from: the entry that the step is from. seen: what its clean pulls showed.
 */
export interface DayEngine {
  readonly model: EngineModel;
  readonly step: Step;
  readonly from: string | undefined;
  readonly seen?: readonly Observation[];
  readonly findings: readonly Finding[];
}

export type Progress = (done: { readonly what: string; readonly share: number }) => void;

/** What of an entry is wanted as a file, and in which format. */
export interface EntryExport {
  readonly part: ExportedPart;
  readonly format: ExportFormat;
}

export interface Work {
  readonly progress?: Progress;
  readonly signal?: AbortSignal;
}

/** What is asked of a whole day. thresholds: name → number with unit, on top of the day's own; nothing of them is kept. */
export interface DayWish extends Work {
  readonly thresholds?: Readonly<Record<string, string>>;
}

/** What is asked of the health of a day. soon: sensitivities do where the engine model would have to be worked out first. */
export interface HealthWish extends DayWish {
  readonly soon?: boolean;
}

/**
 * The desk: opens days, reads files, runs the chain, keeps what a person decided. Server and command line ask only here.
 * Every change of facts is acknowledged only after it is on disk.
 */
export interface Desk {
  days(): readonly DaySummary[];
  /** Takes in a day's folder (`day.yaml` and logs); the folder is not changed. Its findings: logs that are missing or belong to no entry. */
  openFolder(path: string): Promise<Outcome<DaySummary>>;
  newDay(facts: DayFacts): Promise<Outcome<DaySummary>>;
  facts(day: string): Outcome<DayFacts>;
  /** The logs of a day: name and SHA-256 of the raw bytes. */
  files(day: string): Outcome<readonly { readonly name: string; readonly hash: string }[]>;
  /** Replaces the facts; the former ones stay in the history. */
  setFacts(day: string, facts: DayFacts, why: string): Promise<Outcome<DayFacts>>;
  undo(day: string): Promise<Outcome<DayFacts>>;
  /** Reads one file's bytes, keeps them, proposes a mapping. It enters a day when an entry of its facts names it (`setFacts`). */
  take(file: string, bytes: Uint8Array, work?: Work): Promise<Outcome<FileReading>>;
  reading(source: string): Promise<Outcome<FileReading>>;
  /** Remembers a decided mapping for its set of columns. */
  decide(mapping: Mapping): Promise<Outcome<void>>;
  report(day: string, wish?: DayWish): Promise<Outcome<DayReport>>;
  entry(day: string, entry: string, work?: Work): Promise<Outcome<EntryReport>>;
  /** The verdicts of one entry as they would be with other thresholds (name → number with unit) on top of the day's; nothing is kept. */
  trial(
    day: string,
    entry: string,
    thresholds: Readonly<Record<string, string>>,
  ): Promise<Outcome<readonly PullVerdict[]>>;
  /** What the day says of the health of engine and car: trends, readiness of each pull, what is not known. */
  health(day: string, wish?: HealthWish): Promise<Outcome<DayHealth>>;
  /** The engine of the day: every limit ahead is asked of it. */
  engine(day: string, work?: Work): Promise<Outcome<DayEngine>>;
  /** The joined record of one entry, for traces. */
  record(day: string, entry: string): Promise<Outcome<JoinedRecord>>;
  /** The two logs of one entry before they were joined, for trying another offset. */
  logs(day: string, entry: string): Promise<Outcome<EntryLogs>>;
  /**
   * Watches the day's folder; calls back when a new log was taken in and analysed, and tells the trouble when one could not be.
   * Returns a function that stops.
   */
  watch(day: string, seen: (entry: string) => void, trouble?: (refusal: Refusal) => void): () => void;
  /** One entry's curves or channels as the bytes of a file, SI units. */
  exportEntry(day: string, entry: string, wish: EntryExport): Promise<Outcome<Uint8Array>>;
  exportFolder(day: string, path: string): Promise<Outcome<string>>;
  close(): void;
}
