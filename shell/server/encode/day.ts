import type { DayReport, EntryReport } from '../../../day/reports/day-report.ts';
import type { DaySummaryView, DayView, StripEntry } from '../../contract/index.ts';
import type { DaySummary } from '../../desk/desk.ts';
import { plainFinding, plainMeasured, plainRefusal } from './plain.ts';
import { standingOf } from './standing.ts';

export function encodeSummary({ id, title, date, folder, entries, invented }: DaySummary): DaySummaryView {
  return { id, title, date, folder, entries, invented };
}

export function encodeDay(summary: DaySummary, report: DayReport): DayView {
  const { facts, entries, findings, cautions, method } = report;
  return {
    id: summary.id,
    title: facts.title,
    date: facts.date,
    invented: facts.invented,
    notes: facts.notes,
    place: facts.place.name,
    vehicle: facts.vehicle.name,
    folder: summary.folder,
    entries: entries.map(encodeMark),
    findings: findings.map(plainFinding),
    cautions: [...cautions],
    method,
  };
}

function encodeMark(entry: EntryReport): StripEntry {
  const { facts, result, sentence } = entry;
  const highest = highestPeak(entry);
  const refusal = result?.refusal ?? result?.pulls.find((pull) => pull.refusal)?.refusal;
  return {
    id: facts.id,
    kind: facts.kind,
    clock: facts.clock,
    title: facts.title,
    sentence,
    standing: standingOf(entry),
    pulls: result?.pulls.length ?? 0,
    peak: plainMeasured(highest),
    peakOf: highest?.what,
    peakEngineSpeed: highest?.engineSpeed,
    excluded: facts.excluded,
    findings: countFindings(entry),
    refusal: refusal && plainRefusal(refusal),
  };
}

/** Highest engine power of the entry's pulls; without one the highest wheel power, then roll power. */
function highestPeak({ result }: EntryReport) {
  const peaks = result?.pulls.filter(({ refusal }) => !refusal).flatMap((pull) => pull.peaks) ?? [];
  for (const what of ['engine power', 'wheel power', 'roll power'] as const) {
    const found = peaks.filter((peak) => peak.what === what && peak.basis === 'curve' && Number.isFinite(peak.value));
    const first = found.sort((one, other) => other.value - one.value)[0];
    if (first) return { ...first, what };
  }
  return undefined;
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
