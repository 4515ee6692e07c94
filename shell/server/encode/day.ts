import type { Peak } from '../../../day/pulls/index.ts';
import type { DayReport, EntryReport } from '../../../day/reports/index.ts';
import type { DayHealth } from '../../../day/verdicts/index.ts';
import type { DaySummaryView, DayView, StripEntry } from '../../contract/index.ts';
import type { DaySummary } from '../../desk/index.ts';
import { dayStop, entryStop, graver, healthStop } from './day-stop.ts';
import { plainFinding, plainMeasured, plainRefusal } from './plain.ts';
import type { PowerChannels } from './power-channels.ts';
import { standingOf } from './standing.ts';
import { encodeStop } from './verdict.ts';

export function encodeSummary({ id, title, date, folder, entries, invented }: DaySummary): DaySummaryView {
  return { id, title, date, folder, entries, invented };
}

/** What of a day is known beside its report. health: undefined where it could not be told. */
interface Beside {
  readonly channels: PowerChannels;
  readonly health?: DayHealth | undefined;
}

export function encodeDay(summary: DaySummary, report: DayReport, { channels, health }: Beside): DayView {
  const { facts, entries, findings, cautions, method } = report;
  const what = commonPeak(entries);
  return {
    id: summary.id,
    title: facts.title,
    date: facts.date,
    invented: facts.invented,
    notes: facts.notes,
    place: facts.place.name,
    vehicle: facts.vehicle.name,
    folder: summary.folder,
    entries: entries.map((entry) => encodeMark(entry, { what, channels, health })),
    findings: findings.map(plainFinding),
    cautions: [...cautions],
    method,
    stop: graver(dayStop(entries), health && healthStop(health, entries)),
  };
}

function encodeMark(entry: EntryReport, { what, channels, health }: Beside & { what: PeakOf }): StripEntry {
  const { facts, result, sentence } = entry;
  const { stopClass, found } = entryStop(entry, health);
  const highest = highestPeak(entry, what);
  const refusal = result?.refusal ?? result?.pulls.find((pull) => pull.refusal)?.refusal;
  return {
    id: facts.id,
    kind: facts.kind,
    clock: facts.clock,
    title: facts.title,
    sentence,
    standing: standingOf(entry, channels),
    stop: stopClass > 0 ? encodeStop(stopClass) : undefined,
    stopOf: found,
    pulls: result?.pulls.length ?? 0,
    peak: plainMeasured(highest),
    peakOf: highest && what,
    peakEngineSpeed: highest?.engineSpeed,
    excluded: facts.excluded,
    findings: countFindings(entry),
    refusal: refusal && plainRefusal(refusal),
  };
}

type PeakOf = NonNullable<StripEntry['peakOf']>;

const NEAREST_ENGINE: readonly PeakOf[] = ['engine power', 'wheel power', 'roll power'];

/** The power nearest to the engine that every entry with a peak knows: marks of one strip are compared by eye, so they show one kind. */
function commonPeak(entries: readonly EntryReport[]): PeakOf {
  const judged = entries.filter((entry) => NEAREST_ENGINE.some((what) => highestPeak(entry, what)));
  return NEAREST_ENGINE.find((what) => judged.every((entry) => highestPeak(entry, what))) ?? 'roll power';
}

/** Highest peak of that kind among the pulls of an entry that claim power. */
function highestPeak({ result }: EntryReport, what: PeakOf): Peak | undefined {
  const peaks = result?.pulls.filter(({ refusal }) => !refusal).flatMap((pull) => pull.peaks) ?? [];
  const found = peaks.filter((peak) => peak.what === what && peak.basis === 'curve' && Number.isFinite(peak.value));
  return found.sort((one, other) => other.value - one.value)[0];
}

function countFindings({ result }: EntryReport): StripEntry['findings'] {
  const count = { note: 0, doubt: 0, fault: 0 };
  const pulls = result?.pulls.flatMap(({ findings }) => findings) ?? [];
  const losses = result?.losses.flatMap(({ findings }) => findings) ?? [];
  for (const { weight } of [...(result?.findings ?? []), ...(result?.conditions.findings ?? []), ...pulls, ...losses]) {
    count[weight] += 1;
  }
  return count;
}
