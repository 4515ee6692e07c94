import { formatQuantity } from '../../../core/quantities/index.ts';
import { bestPeak, type DayReport, type EntryReport, peakText, withBand } from '../../../day/reports/index.ts';
import { findingLines } from './findings.ts';
import type { TextStyle } from './pull-text.ts';
import { textTable, wrapped } from './table.ts';

/** A day in one screen: what it is, a line for every entry, findings of the whole day, the first caution. */
export function dayText({ facts, entries, findings, cautions, method }: DayReport, style: TextStyle): string {
  const head = [facts.title, facts.date, facts.place.name].filter((part) => part !== undefined).join(', ');
  const invented = facts.invented === undefined ? [] : [wrapped(`Invented: ${facts.invented}`, style.width)];
  const columns = [
    { heading: 'entry' },
    { heading: 'clock' },
    { heading: 'what', most: 44 },
    { heading: 'made', most: 46 },
    { heading: 'where' },
    { heading: 'to know', align: 'right' as const },
  ];
  const rows = entries.map((entry) => [
    entry.facts.id,
    entry.facts.clock ?? '',
    whatText(entry),
    ...madeTexts(entry, style),
    noteCount(entry),
  ]);
  const notes = findings.length > 0 ? ['', 'Findings', ...findingLines(findings, style.width)] : [];
  return [
    head,
    ...invented,
    '',
    textTable(columns, rows),
    ...notes,
    '',
    `Bands are two standard uncertainties. Method ${method}.`,
    cautions[0] ?? '',
  ].join('\n');
}

function whatText({ facts }: EntryReport): string {
  const settings = Object.values(facts.settings).slice(0, 2).join(', ');
  return facts.title ?? (settings === '' ? facts.kind : settings);
}

function madeTexts(entry: EntryReport, { system }: TextStyle): readonly [string, string] {
  const { result, facts } = entry;
  if (result?.refusal) return [`no answer: ${result.refusal.message}`, ''];
  const peak = bestPeak(entry);
  if (peak) return [peakText(peak, system), peak.what.replace(' power', '')];
  const loss = result?.losses[0];
  if (!loss) return [facts.kind === 'pull' ? 'no full-load pull found' : '', ''];
  const { force, speed } = loss.middle;
  return [
    `${withBand(force.value, force.standardUncertainty, { kind: 'force', system })} at ${formatQuantity(speed, 'speed', { system })}`,
    `loss, ${loss.clutch}`,
  ];
}

function noteCount({ result, questions }: EntryReport): string {
  const findings = [...(result?.findings ?? []), ...(result?.pulls ?? []).flatMap((pull) => pull.findings)];
  const faults = findings.filter(({ weight }) => weight === 'fault').length;
  const doubts = findings.filter(({ weight }) => weight === 'doubt').length;
  const parts = [faults > 0 ? `${faults}!` : '', doubts > 0 ? `${doubts}?` : '', questions.length > 0 ? 'decide' : ''];
  return parts.filter((part) => part !== '').join(' ');
}
