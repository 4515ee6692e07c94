import { formatQuantity } from '../../../core/quantities/index.ts';
import {
  bestPeak,
  type DayReport,
  type EntryReport,
  peakText,
  verdictSentence,
  withBand,
} from '../../../day/reports/index.ts';
import { type DayHealth, isBelieved } from '../../../day/verdicts/index.ts';
import { entryStop } from '../../server/index.ts';
import { BANDS } from './bands.ts';
import { entryFindingLines, findingLines, saidOnce } from './findings.ts';
import { healthLines } from './health-text.ts';
import type { TextStyle } from './style.ts';
import { textTable, wrapped } from './table.ts';

/** A day in one screen: what it is, a line for every entry, its health where it was asked, what must be known, the first caution. */
export function dayText(
  { facts, entries, findings, cautions, method }: DayReport,
  style: TextStyle,
  health?: DayHealth,
): string {
  const { width } = style;
  const head = [facts.title, facts.date, facts.place.name].filter((part) => part !== undefined).join(', ');
  const invented = facts.invented === undefined ? [] : [wrapped(`Invented: ${facts.invented}`, width)];
  const columns = [
    { heading: 'entry' },
    { heading: 'clock' },
    { heading: 'what', wraps: true },
    { heading: 'made' },
    { heading: 'where' },
    { heading: 'clean' },
    { heading: 'to know', align: 'right' as const },
  ];
  const rows = entries.map((entry) => [
    entry.facts.id,
    entry.facts.clock ?? '',
    whatText(entry),
    ...madeTexts(entry, style),
    cleanText(entry, health),
    noteCount(entry),
  ]);
  const verdicts = verdictLines(entries, style);
  const lines = [
    ...findingLines(findings, width),
    ...reasonLines(entries, width),
    ...entryFindingLines(
      entries.map((entry) => ({ id: entry.facts.id, findings: findingsOf(entry) })),
      width,
    ),
    ...questionLines(entries, width),
  ];
  return [
    wrapped(head, width),
    ...invented,
    '',
    textTable(columns, rows, width),
    ...(verdicts.length > 0 ? ['', 'Verdicts', ...verdicts] : []),
    ...(health ? ['', 'Health of the day', ...healthLines(health, style)] : []),
    ...(lines.length > 0 ? ['', 'To know (! fault, ? doubt, · note)', ...lines] : []),
    '',
    `${BANDS} Method ${method}.`,
    wrapped(cautions[0] ?? '', width),
  ].join('\n');
}

function whatText({ facts }: EntryReport): string {
  const settings = Object.values(facts.settings).slice(0, 2).join(', ');
  return facts.title ?? (settings === '' ? facts.kind : settings);
}

function madeTexts(entry: EntryReport, { system }: TextStyle): readonly [string, string] {
  const { result, facts } = entry;
  if (facts.excluded !== undefined) return ['left out by hand', ''];
  if (result?.refusal) return ['no answer', ''];
  const peak = bestPeak(entry);
  if (peak) return [peakText(peak, system), peak.what.replace(' power', '')];
  const loss = result?.losses[0];
  if (!loss) return [noneText(entry), ''];
  const { force, speed } = loss.middle;
  return [
    `${withBand(force.value, force.standardUncertainty, { kind: 'force', system })} at ${formatQuantity(speed, 'speed', { system })}`,
    `loss, ${loss.clutch}`,
  ];
}

/** The stop that the worst of an entry's pulls, or its health, calls for, else how much of them can be used. */
function cleanText(entry: EntryReport, health: DayHealth | undefined): string {
  const words = [...new Set(entry.verdicts.map(({ validity }) => VALIDITY[validity]))].join(', ');
  const { stopClass: worst } = entryStop(entry, health);
  return worst === 3 ? 'END' : worst === 2 ? 'HOLD' : words;
}

const VALIDITY = { valid: 'yes', 'valid in windows': 'partly', void: 'no' } as const;

/** Every pull that something spoiled, or that asks for more than a note: its verdict in a sentence. */
function verdictLines(entries: readonly EntryReport[], { width, system }: TextStyle): readonly string[] {
  return entries.flatMap(({ facts, verdicts }) =>
    verdicts.flatMap((verdict) => {
      const counts = verdict.occurrences.some((one) => one.overruled !== undefined || isBelieved(one));
      if (!counts && verdict.stopClass === 0) return [];
      const number = verdicts.length > 1 ? `, pull ${verdict.index + 1}` : '';
      const mark = verdict.stopClass >= 2 ? '!' : '·';
      return [wrapped(`${mark} ${facts.id}${number}: ${verdictSentence(verdict, system)}`, width, '  ')];
    }),
  );
}

function noneText({ facts, result, unread = [] }: EntryReport): string {
  if (facts.kind === 'change' || facts.kind === 'note') return '';
  if (unread.length > 0) return 'log not read';
  if (facts.files.length === 0) return 'no log';
  if (result?.pulls.some((pull) => pull.refusal)) return 'no answer';
  return facts.kind === 'pull' ? 'no full-load pull found' : 'no coast-down found';
}

/** Why an entry has no answer, or does not count, once for all entries that share the reason. */
function reasonLines(entries: readonly EntryReport[], width: number): readonly string[] {
  const reasons = entries.flatMap(({ facts, result }) => {
    const refusals = [result?.refusal, ...(result?.pulls.map(({ refusal }) => refusal) ?? [])];
    const told = [...new Set(refusals.flatMap((refusal) => refusal?.message ?? []))];
    const texts =
      facts.excluded === undefined ? told.map((text) => `no answer: ${text}`) : [`left out: ${facts.excluded}`];
    return texts.map((text) => ({ id: facts.id, text }));
  });
  return [...Map.groupBy(reasons, ({ text }) => text)].map(([text, group]) =>
    wrapped(`! ${group.map(({ id }) => id).join(', ')}: ${text}`, width, '  '),
  );
}

function findingsOf({ result }: EntryReport) {
  return [...(result?.findings ?? []), ...(result?.pulls ?? []).flatMap((pull) => pull.findings)];
}

function noteCount(entry: EntryReport): string {
  const findings = saidOnce(findingsOf(entry));
  const faults = findings.filter(({ weight }) => weight === 'fault').length + (entry.unread?.length ?? 0);
  const doubts = findings.filter(({ weight }) => weight === 'doubt').length;
  const decide = entry.questions.length > 0 ? 'decide' : '';
  return [faults > 0 ? `${faults}!` : '', doubts > 0 ? `${doubts}?` : '', decide]
    .filter((part) => part !== '')
    .join(' ');
}

/** The same question about the same column of many files is asked once. */
function questionLines(entries: readonly EntryReport[], width: number): readonly string[] {
  const asked = entries.flatMap(({ questions }) =>
    questions.flatMap(({ file, proposals }) => proposals.map(({ column, question }) => ({ file, column, question }))),
  );
  const groups = Map.groupBy(asked, ({ column }) => column);
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    const files = [...new Set(group.map(({ file }) => file))];
    const more = files.length > 1 ? ` and ${files.length - 1} more` : '';
    return [wrapped(`decide: ${first.file}${more}, ${first.column}: ${first.question ?? 'what is it?'}`, width, '  ')];
  });
}
