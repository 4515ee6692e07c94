import { joinRecords, type Meaning, sameClock } from '../../channels/index.ts';
import {
  type DayFacts,
  type EntryFacts,
  type EntryResult,
  type JoinedRecord,
  keptStep,
  type OpenEntry,
  type StepMemory,
  secondsOfDay,
} from '../../pulls/index.ts';
import { type SceneTrack, sceneTracks } from '../scene/track.ts';
import type { PullVerdict } from '../verdict.ts';

/** The day as far as it was computed. All maps by entry id; entries follow one another as in `facts`. */
export interface EntriesInput {
  readonly facts: DayFacts;
  readonly opened: ReadonlyMap<string, OpenEntry | undefined>;
  readonly results: ReadonlyMap<string, EntryResult | undefined>;
  /** Verdicts of the day's pulls: windows in which power was spoilt, and channels at fault, stay out of every comparison. */
  readonly verdicts?: readonly PullVerdict[];
  /** Keeps what was worked out about entries of which nothing changed. */
  readonly memory?: StepMemory | undefined;
}

/**
 * One entry with its place in the day. clock: s of the day; without one entries follow one another ten minutes apart and `clockKnown` is
 * false. block: how many changes lie before it. tracks: [] without a log. apart: the engine log's channels on their own clock where it could not
 * be joined with the roller's, as in a coast-down with the clutch open; else [].
 */
export interface HealthEntry {
  readonly id: string;
  readonly order: number;
  readonly facts: EntryFacts;
  readonly clock: number;
  readonly clockKnown: boolean;
  readonly block: number;
  readonly open: OpenEntry | undefined;
  readonly result: EntryResult | undefined;
  readonly tracks: readonly SceneTrack[];
  readonly apart: readonly SceneTrack[];
  readonly verdicts: readonly PullVerdict[];
}

/** Channels that health compares by cells. */
export const COMPARED: ReadonlySet<Meaning> = new Set<Meaning>([
  'manifold-pressure',
  'manifold-gauge-pressure',
  'barometric-pressure',
  'ambient-temperature',
  'charge-temperature',
  'compressor-outlet-temperature',
  'ignition-timing',
  'lambda',
  'cam-angle',
  'turbo-speed',
  'exhaust-pressure',
  'exhaust-temperature',
  'oil-pressure',
  'oil-temperature',
  'coolant-pressure',
  'coolant-temperature',
  'crankcase-pressure',
  'gearbox-temperature',
  'axle-temperature',
  'tyre-temperature',
]);
/** Channels that tell what the engine and the rolls did. */
const WITNESSES: ReadonlySet<Meaning> = new Set<Meaning>([
  'engine-speed',
  'roll-speed',
  'battery-voltage',
  'cut-status',
]);

/** Step between entries whose clock time nobody wrote down [s]. @source our default, as for the loss model of the day */
const STEP = 600;
const EVER = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };

/** The day's entries in order, each with its place and its tracks. Excluded entries have neither log nor result. */
export function healthEntries({ facts, opened, results, verdicts = [], memory }: EntriesInput): readonly HealthEntry[] {
  let clock = 0;
  let block = 0;
  return facts.entries.map((entry, order) => {
    const written = secondsOfDay(entry.clock);
    clock = written ?? clock + STEP;
    if (entry.kind === 'change') block += 1;
    const open = entry.excluded === undefined ? opened.get(entry.id) : undefined;
    return {
      ...{ id: entry.id, order, facts: entry, clock, clockKnown: written !== undefined, block, open },
      result: open && results.get(entry.id),
      ...(open ? tracksOf(open, memory) : { tracks: [], apart: [] }),
      verdicts: verdicts.filter((one) => one.entry === entry.id),
    };
  });
}

const tracksOf = keptStep(
  (open: OpenEntry) => ({ tracks: neededTracks(open.joined.record), apart: tracksApart(open) }),
  (open, nameOf) => nameOf(open),
);

function tracksApart({ joined }: OpenEntry): readonly SceneTrack[] {
  const { engine, roller } = joined.logs;
  if (!engine || !roller || joined.record.tracks.some(({ file }) => file === engine.file)) return [];
  return neededTracks(joinRecords({ roller: engine, alignment: sameClock(engine) }));
}

function neededTracks(record: JoinedRecord): readonly SceneTrack[] {
  const tracks = record.tracks.filter(({ channel: { meaning } }) => COMPARED.has(meaning) || WITNESSES.has(meaning));
  return sceneTracks({ ...record, tracks }, EVER);
}

/** What was changed between two entries: titles of the changes, and settings that both or one of them state differently. */
export function changedBetween(
  entries: readonly HealthEntry[],
  first: HealthEntry,
  second: HealthEntry,
): readonly string[] {
  const [from, to] = first.order < second.order ? [first, second] : [second, first];
  const changes = entries
    .filter(({ order, facts }) => facts.kind === 'change' && order > from.order && order < to.order)
    .map(({ facts }) => facts.title ?? facts.id);
  return [...changes, ...differingSettings(first, second)];
}

/** Settings that two entries state differently. One that only one of them states is not known to differ. */
export function differingSettings({ facts: a }: HealthEntry, { facts: b }: HealthEntry): readonly string[] {
  return Object.keys(a.settings)
    .filter((key) => b.settings[key] !== undefined && a.settings[key] !== b.settings[key])
    .map((key) => `${key}: ${a.settings[key]} → ${b.settings[key]}`);
}

/** Settings whose effect the logs show by themselves: they do not make another set-up. @source our default */
const MEASURED_SETTINGS = /^[^:]*\b(map|boost|manifold|timing|ignition|advance|spark|lambda|mixture)\b[^:]*(:|$)/i;

/** Whether a change, or a setting by its name, may act on what is compared without any channel showing it. */
export function isUnmeasured(change: string): boolean {
  return !MEASURED_SETTINGS.test(change);
}
