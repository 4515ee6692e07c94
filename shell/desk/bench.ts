import { setImmediate as nextTurn } from 'node:timers/promises';
import { answered, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import { type Mapping, matters, type Proposal, type Recording, type Sound } from '../../day/channels/index.ts';
import { mapOfTable, powerModel } from '../../day/plans/index.ts';
import {
  type DayFacts,
  dayClockSteps,
  type EngineFacts,
  type EntryFacts,
  entrySound,
  type OpenEntry,
} from '../../day/pulls/index.ts';
import {
  type DayLogs,
  type DayReport,
  judgingSteps,
  METHOD,
  openedEntry,
  resultsOf,
  withVerdicts,
} from '../../day/reports/index.ts';
import {
  type DayHealth,
  dayHealth,
  dayLimits,
  type PullVerdict,
  pullVerdict,
  type VerdictInput,
  verdictSteps,
} from '../../day/verdicts/index.ts';
import { openSound, openTable } from '../files/index.ts';
import type { DayFile, Store } from '../store/index.ts';
import type { DayEngine, HealthWish, Work } from './desk.ts';
import { dayEngine } from './engine.ts';
import { Kept } from './kept.ts';
import { KeptSteps } from './kept-steps.ts';
import {
  barometerOf,
  decidedTogether,
  needsAmbient,
  type ReadTable,
  readTable,
  recordingOf,
  unknownEntry,
} from './reading.ts';
import { sameLogs } from './same-logs.ts';
import { isForSoundReader, soundKey } from './sounds.ts';
import { isPartFile, notRead, notThere } from './unread-logs.ts';

/** Facts and logs of a day, as they stand now. */
export interface DayQuestion {
  readonly facts: DayFacts;
  readonly files: readonly DayFile[];
}

/** Files, recordings and entries that stay in memory. @source our default: a long day with two logs an entry */
const KEPT_FILES = 120;
/** Whole days that stay in memory, of each as it was some changes ago. @source our default */
const KEPT_DAYS = 4;

/**
 * The workbench: turns raw bytes into tables, recordings and reports, and remembers each step in memory under what it was made of.
 * Everything here can be thrown away; the store has what counts.
 */
export class Bench {
  private readonly store: Store;
  private readonly tables = new Kept<ReadTable>(KEPT_FILES);
  private readonly recordings = new Kept<Outcome<Recording>>(KEPT_FILES);
  private readonly entries = new Kept<{ readonly open: OpenEntry | undefined }>(KEPT_FILES);
  /** What was worked out about single entries and pulls: a new log changes that of few. */
  private readonly steps = new KeptSteps();
  private readonly days = new Kept<JudgedDay>(KEPT_DAYS);
  /** Days whose facts, files and decided columns did not change since: found without looking at their logs. */
  private readonly asTheyWere = new Kept<JudgedDay>(KEPT_DAYS);
  private decided = 0;
  private readonly healths = new WeakMap<DayReport, DayHealth>();
  private readonly engines = new WeakMap<DayReport, DayEngine>();
  /** Engines whose slopes were worked out, so that another pull of theirs costs its own alone. */
  private readonly slopes = new Kept<boolean>(KEPT_DAYS);

  constructor(store: Store) {
    this.store = store;
  }

  /** The table of a log that the store keeps, with what we believe about its columns. */
  async table(source: string, file: string, work: Work = {}): Promise<Outcome<ReadTable>> {
    const known = this.tables.get(source);
    if (known) return answered(known);
    const bytes = await this.store.raw(source);
    if (!bytes.ok) return bytes;
    const opened = await openTable(bytes.value, { file, ...(work.signal ? { signal: work.signal } : {}) });
    if (!opened.ok) return opened;
    const read = readTable({ ...opened.value, source }, (columnSet) => this.remembered(columnSet));
    this.tables.put(source, read);
    return answered(read, opened.findings);
  }

  /** A sound that the store keeps. It is not held: what a day needs of it is its recording. */
  async sound(source: string, file: string, work: Work = {}): Promise<Outcome<Sound>> {
    const bytes = await this.store.raw(source);
    return bytes.ok ? openSound(bytes.value, { file, ...(work.signal ? { signal: work.signal } : {}) }) : bytes;
  }

  /** A sound of this engine as a recording. Worked out once for the same bytes and the same facts of the engine. */
  private async heard({ hash, name }: DayFile, engine: EngineFacts, work: Work): Promise<Outcome<Recording>> {
    const key = soundKey(hash, name, engine);
    const known = this.recordings.get(key);
    if (known) return known;
    const sound = await this.sound(hash, name, work);
    const heard = sound.ok ? entrySound(sound.value, engine) : sound;
    if (heard.ok || heard.refusal.kind !== CANCELLED.kind) this.recordings.put(key, heard);
    return heard;
  }

  /** Forgets every table with this set of columns: it was decided anew. */
  forget(columnSet: string): void {
    this.tables.dropWhere((read) => read.columnSet === columnSet);
    this.decided += 1;
  }

  /** The whole day. What did not change since it was last asked is not computed again. */
  async report(day: DayQuestion, work: Work = {}): Promise<Outcome<DayReport>> {
    const judged = await this.judged(day, work);
    return judged.ok ? answered(judged.value.report) : judged;
  }

  private async judged(day: DayQuestion, work: Work): Promise<Outcome<JudgedDay>> {
    const asIs = JSON.stringify([this.decided, day]);
    const unchanged = this.asTheyWere.get(asIs);
    if (unchanged) return answered(unchanged);
    const judged = await this.judgedAnew(day, work);
    // a log that could not be read may be readable the next time
    const isWhole = judged.ok && !judged.value.report.findings.some(({ kind }) => kind === 'log-not-read');
    if (isWhole) this.asTheyWere.put(asIs, judged.value);
    return judged;
  }

  private async judgedAnew(day: DayQuestion, work: Work): Promise<Outcome<JudgedDay>> {
    const logs = await this.logs(day, work);
    if (!logs.ok) return logs;
    const key = JSON.stringify([day.facts, day.facts.entries.map((entry) => entryKey(day, entry, logs.value))]);
    const known = this.days.get(key);
    if (known) return answered(known);
    const opened = await this.openAll(day, logs.value, work);
    if (!opened.ok) return opened;
    const rated = await this.onDayClocks(opened.value, work);
    if (!rated.ok) return rated;
    const report = await this.withPower(day, { logs: logs.value, rated: rated.value }, work);
    if (!report.ok) return report;
    const judged = await this.withVerdicts(day, { report: report.value, rated: rated.value }, work);
    if (!judged.ok) return judged;
    this.days.put(key, judged.value);
    return judged;
  }

  /** Every entry on the day's clocks, giving way to others after each. */
  private async onDayClocks(opened: Rated, work: Work): Promise<Outcome<Rated>> {
    const steps = dayClockSteps(opened, this.steps);
    for (let done = 0; ; done += 1) {
      const step = steps.next();
      if (step.done) return answered(step.value);
      const share = 0.7 + (0.05 * done) / Math.max(1, opened.size);
      if (await interrupted(work, { what: `joining ${step.value}`, share })) return refused(CANCELLED);
    }
  }

  /** What every entry made, giving way to others after each. */
  private async withPower(
    day: DayQuestion,
    { logs, rated }: { readonly logs: ReadLogs; readonly rated: Rated },
    work: Work,
  ): Promise<Outcome<DayReport>> {
    const steps = judgingSteps(day.facts, logs, { rated, memory: this.steps });
    for (let done = 0; ; done += 1) {
      const step = steps.next();
      if (step.done) return answered(step.value);
      const share = 0.75 + (0.05 * done) / Math.max(1, day.facts.entries.length);
      if (await interrupted(work, { what: `power of ${step.value.facts.id}`, share })) return refused(CANCELLED);
    }
  }

  /** The report with its verdicts, giving way to others after each pull. */
  private async withVerdicts(
    day: DayQuestion,
    { report, rated }: Omit<JudgedDay, 'asked'>,
    work: Work,
  ): Promise<Outcome<JudgedDay>> {
    const steps = verdictSteps({ facts: day.facts, rated, results: resultsOf(report), memory: this.steps });
    const pulls = report.entries.reduce((sum, { result }) => sum + (result?.pulls.length ?? 0), 0);
    for (let done = 0; ; done += 1) {
      const step = steps.next();
      if (step.done) return answered({ report: withVerdicts(report, step.value), rated, asked: step.value.asked });
      const share = 0.8 + (0.2 * (done + 1)) / Math.max(1, pulls);
      if (await interrupted(work, { what: `judging ${step.value.entry}`, share })) return refused(CANCELLED);
    }
  }

  /** What the day says of the health of engine and car. Worked out once for a judged day; what is asked for soon rests on sensitivities and is not kept. */
  async health(day: DayQuestion, work: HealthWish = {}): Promise<Outcome<DayHealth>> {
    const judged = await this.judged(day, work);
    if (!judged.ok) return judged;
    const { report, rated } = judged.value;
    const known = this.healths.get(report);
    if (known) return answered(known);
    if (await interrupted(work, { what: 'comparing the entries of the day', share: 0.99 })) return refused(CANCELLED);
    const verdicts = report.entries.flatMap((entry) => entry.verdicts);
    const limits = dayLimits(day.facts).health;
    const results = resultsOf(report);
    const asked = { facts: day.facts, opened: rated, results, verdicts, limits, memory: this.steps };
    const engine = engineKey(day.facts);
    if (work.soon && !this.slopes.get(engine)) return answered(dayHealth(asked));
    const table = await this.mapTable(day);
    const map = table?.ok ? mapOfTable(table.value.table) : undefined;
    const predict = powerModel({ facts: day.facts, map: map?.ok ? map.value : undefined, memory: this.steps });
    const health = dayHealth({ ...asked, predict });
    this.slopes.put(engine, true);
    this.healths.set(report, health);
    return answered(health);
  }

  /** The engine of a judged day. Worked out once; a map of the compressor that cannot be read is a finding. */
  async engine(day: DayQuestion, work: Work = {}): Promise<Outcome<DayEngine>> {
    const judged = await this.judged(day, work);
    if (!judged.ok) return judged;
    const { report, asked } = judged.value;
    const known = this.engines.get(report);
    if (known) return answered(known);
    if (await interrupted(work, { what: 'fitting the engine to its clean pulls', share: 0.99 }))
      return refused(CANCELLED);
    const engine = dayEngine({ facts: day.facts, report, asked, map: await this.mapTable(day) });
    this.engines.set(report, engine);
    return answered(engine);
  }

  /** The file with the map of the compressor; undefined where there is none. */
  private async mapTable({ facts, files }: DayQuestion): Promise<Outcome<ReadTable> | undefined> {
    const file = facts.parts?.compressorMap;
    const hash = files.find(({ name }) => name === file)?.hash;
    return file === undefined || hash === undefined ? undefined : this.table(hash, file);
  }

  /** One entry on the day's clocks. */
  async opened(day: DayQuestion, id: string): Promise<Outcome<OpenEntry>> {
    if (!day.facts.entries.some((one) => one.id === id)) return unknownEntry(id);
    const judged = await this.judged(day, {});
    if (!judged.ok) return judged;
    const open = judged.value.rated.get(id);
    return open
      ? answered(open)
      : refused({ kind: 'missing-log', message: `missing log: entry ${id} has none that could be read` });
  }

  /** The verdicts of one entry as they would be with other thresholds on top of the day's: nothing is kept. */
  async trial(
    day: DayQuestion,
    id: string,
    thresholds: Readonly<Record<string, string>>,
  ): Promise<Outcome<readonly PullVerdict[]>> {
    if (!day.facts.entries.some((one) => one.id === id)) return unknownEntry(id);
    const judged = await this.judged(day, {});
    if (!judged.ok) return judged;
    const { limits, findings } = dayLimits({ ...day.facts, thresholds: { ...day.facts.thresholds, ...thresholds } });
    const asked = judged.value.asked.filter(({ scene }) => scene.entry === id);
    return answered(
      asked.map((question) => pullVerdict({ ...question, limits })),
      findings,
    );
  }

  private remembered(columnSet: string): Mapping | undefined {
    const found = this.store.mapping(columnSet);
    return found.ok ? found.value : undefined;
  }

  private async logs(day: DayQuestion, work: Work): Promise<Outcome<ReadLogs>> {
    const reads = new Map<string, ReadTable>();
    const unread = new Map<string, Refusal>(notThere(day));
    const recordings = new Map<string, Recording>();
    const logs = day.files.filter(({ name }) => !isPartFile(day.facts, name));
    for (const [i, log] of logs.entries()) {
      const { name, hash } = log;
      const done = { what: `reading ${name}`, share: (0.5 * i) / logs.length };
      if (await interrupted(work, done)) return refused(CANCELLED);
      const read = await this.table(hash, name, work.signal ? { signal: work.signal } : {});
      if (read.ok) {
        reads.set(name, read.value);
        continue;
      }
      const isSound = isForSoundReader(read.refusal, name);
      const sound = isSound ? await this.heard(log, day.facts.engine, work) : refused<Recording>(read.refusal);
      if (sound.ok) recordings.set(name, sound.value);
      else if (sound.refusal.kind === CANCELLED.kind) return sound;
      else unread.set(name, sound.refusal);
    }
    const questions = new Map<string, readonly Proposal[]>();
    const mappings = new Map<string, string>();
    const together = decidedTogether(reads, day.facts);
    for (const [name, read] of together) {
      const open = read.open.filter(matters);
      if (open.length > 0) questions.set(name, open);
      const ambientPressure = needsAmbient(read) ? this.ambientOf(name, { day, together }) : undefined;
      mappings.set(name, JSON.stringify([read.mapping, ambientPressure]));
      const recording = this.recording(read, name, ambientPressure);
      if (recording.ok) recordings.set(name, recording.value);
      else unread.set(name, recording.refusal);
    }
    const findings = [...[...unread].map(([name, refusal]) => notRead(name, refusal)), ...sameLogs(day)];
    const why = new Map([...unread].map(([name, { message }]) => [name, message]));
    return answered({ recordings, questions, findings, mappings, unread: why });
  }

  private recording(read: ReadTable, name: string, ambientPressure?: number): Outcome<Recording> {
    const key = JSON.stringify([read.table.source, name, read.mapping, ambientPressure]);
    const known =
      this.recordings.get(key) ?? recordingOf({ ...read, table: { ...read.table, file: name } }, { ambientPressure });
    this.recordings.put(key, known);
    return known;
  }

  /** Ambient pressure for a log without a barometer [Pa]: as stated, else by the barometer of another log of its entry. */
  private ambientOf(
    name: string,
    { day, together }: { readonly day: DayQuestion; readonly together: ReadonlyMap<string, ReadTable> },
  ): number | undefined {
    const stated = day.facts.ambient.pressure?.value;
    if (stated !== undefined) return stated;
    const others = day.facts.entries.filter(({ files }) => files.includes(name)).flatMap(({ files }) => files);
    return others.flatMap((other) => {
      const read = other === name ? undefined : together.get(other);
      const recording = read && !needsAmbient(read) ? this.recording(read, other) : undefined;
      return recording?.ok ? (barometerOf(recording.value) ?? []) : [];
    })[0];
  }

  private async openAll(
    day: DayQuestion,
    logs: ReadLogs,
    work: Work,
  ): Promise<Outcome<Map<string, OpenEntry | undefined>>> {
    const opened = new Map<string, OpenEntry | undefined>();
    const { entries } = day.facts;
    for (const [i, entry] of entries.entries()) {
      if (await interrupted(work, { what: `analysing ${entry.id}`, share: 0.5 + (0.2 * i) / entries.length }))
        return refused(CANCELLED);
      opened.set(entry.id, this.openEntry(day, entry, logs).open);
    }
    return answered(opened);
  }

  private openEntry(day: DayQuestion, entry: EntryFacts, logs: ReadLogs): { readonly open: OpenEntry | undefined } {
    const key = entryKey(day, entry, logs);
    const known = this.entries.get(key) ?? { open: openedEntry(entry, day.facts, logs) };
    this.entries.put(key, known);
    return known;
  }
}

type Rated = ReadonlyMap<string, OpenEntry | undefined>;

/** A judged day and its entries on the day's clocks. */
interface JudgedDay {
  readonly report: DayReport;
  readonly rated: Rated;
  readonly asked: readonly VerdictInput[];
}

/** A day's logs as read, and which mapping each of them got. */
interface ReadLogs extends DayLogs {
  readonly mappings: ReadonlyMap<string, string>;
}

/** What an opened entry was made of: its facts, its logs with their mappings, and the facts of the whole day it looks at. */
function entryKey({ facts, files }: DayQuestion, entry: EntryFacts, { mappings }: ReadLogs): string {
  const hashes = entry.files.map((file) => files.find(({ name }) => name === file)?.hash ?? '');
  const decided = entry.files.map((file) => mappings.get(file) ?? '');
  return JSON.stringify([METHOD, entry, hashes, decided, facts.vehicle, facts.engine, facts.roller]);
}

/** One engine in one car on one day. */
function engineKey({ title, date, engine, vehicle, parts }: DayFacts): string {
  return JSON.stringify([title, date, engine, vehicle, parts]);
}

/** Tells how far it is, gives way to others, and says whether the person cancelled. */
async function interrupted(work: Work, done: { readonly what: string; readonly share: number }): Promise<boolean> {
  work.progress?.(done);
  await nextTurn();
  return work.signal?.aborted === true;
}

const CANCELLED: Refusal = { kind: 'cancelled', message: 'cancelled' };
