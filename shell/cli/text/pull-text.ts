import { formatQuantity } from '../../../core/quantities/index.ts';
import type { EntryResult, Peak, PowerCurve, PullResult } from '../../../day/pulls/index.ts';
import {
  type EntryReport,
  entrySentence,
  peakText,
  pullSentence,
  unreadText,
  withBand,
} from '../../../day/reports/index.ts';
import { type PullVerdict, THRESHOLDS } from '../../../day/verdicts/index.ts';
import { encodeVerdict } from '../../server/index.ts';
import { airLines } from './air-text.ts';
import { bandwidthText } from './bandwidth-text.ts';
import { budgetTables } from './budget-text.ts';
import { chainTables } from './chain-text.ts';
import { clockText, joinText } from './clock-text.ts';
import { findingLines, refusalText } from './findings.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';
import { verdictLines } from './verdict-text.ts';

/** One entry in full: its sentence, every pull with its lines and budget, clocks, air, findings. */
export function entryText(entry: EntryReport, style: TextStyle): string {
  const { facts, result, unread = [] } = entry;
  const sentence = entrySentence(entry, style.system);
  const several = (result?.pulls.length ?? 0) > 1;
  const left = unread.length > 0 ? ` ${unreadText(unread)}.` : '';
  const head = several ? `${severalText(result)}${left}` : sentence;
  const notes =
    facts.notes === undefined || facts.notes === sentence ? [] : [wrapped(`Note: ${facts.notes}`, style.width)];
  return [
    facts.title ?? facts.id,
    wrapped(head, style.width),
    ...notes,
    ...questionLines(entry, style.width),
    ...(result ? resultLines(result, entry.verdicts, style) : []),
  ].join('\n');
}

/** How many pulls there are; where no full throttle is logged nobody knows that they were at full load. */
function severalText(result: EntryResult | undefined): string {
  const assumed = result?.findings.some(({ kind }) => kind === 'full-load-assumed');
  return assumed
    ? `${result?.pulls.length} accelerations, taken as full load: no full throttle is logged that says so.`
    : `${result?.pulls.length} full-load accelerations.`;
}

/** The columns of an entry's logs that wait for a person. */
export function questionLines({ questions }: Pick<EntryReport, 'questions'>, width: number): readonly string[] {
  const asked = questions.flatMap(({ file, proposals }) =>
    proposals.map(({ column, question }) => wrapped(`? ${file}, ${column}: ${question ?? 'what is it?'}`, width, '  ')),
  );
  return asked.length > 0 ? ['', 'To be decided (--column "NAME = MEANING, UNIT")', ...asked] : [];
}

function resultLines(result: EntryResult, verdicts: readonly PullVerdict[], style: TextStyle): readonly string[] {
  const { pulls } = result;
  const findings = [...result.findings, ...pulls.flatMap((pull) => pull.findings)];
  return [
    ...(pulls.length > 1
      ? [...peakTable(pulls, style), ...pulls.flatMap((pull, i) => pullLines(pull, i + 1, style))]
      : []),
    ...(pulls.length === 1 ? pulls.flatMap((pull) => onePull(pull, style)) : []),
    ...verdicts.flatMap((verdict) => {
      const number = pulls.length > 1 ? verdict.index + 1 : undefined;
      return verdictLines(encodeVerdict(verdict, THRESHOLDS), style, number);
    }),
    ...chainTables(pulls, style),
    ...missingLines(pulls, style),
    ...budgetTables(pulls, style),
    ...clockLines(result, style),
    ...airLines(result, style),
    ...(findings.length > 0 ? ['', 'Findings', ...findingLines(findings, style.width)] : []),
  ];
}

function onePull(pull: PullResult, style: TextStyle): readonly string[] {
  if (pull.refusal) return [refusalText(pull.refusal)];
  const peaks = pull.peaks.map(
    (peak) => `  peak ${peak.what.padEnd(16)} ${peakText(peak, style.system)}  (${basisText(peak, pull)})`,
  );
  return ['', ...segmentLines(pull, style), ...peaks, bandwidthLine(pull.curve)];
}

function pullLines(pull: PullResult, number: number, style: TextStyle): readonly string[] {
  const bandwidth = pull.refusal ? [] : [bandwidthLine(pull.curve)];
  return [
    '',
    wrapped(`Pull ${number}: ${pullSentence(pull, style.system)}`, style.width),
    ...segmentLines(pull, style),
    ...bandwidth,
  ];
}

function segmentLines({ segment }: PullResult, { system, width }: TextStyle): readonly string[] {
  const { fromTime, toTime, lowSpeed, highSpeed, gear, reason, lowEngineSpeed, highEngineSpeed } = segment;
  const speeds = `${formatQuantity(lowSpeed, 'speed', { system, unit: false })}–${formatQuantity(highSpeed, 'speed', { system })}`;
  const engine =
    lowEngineSpeed === undefined || highEngineSpeed === undefined
      ? ''
      : `, ${formatQuantity(lowEngineSpeed, 'engine-speed', { unit: false })}–${formatQuantity(highEngineSpeed, 'engine-speed')}`;
  return [
    `  ${fromTime.toFixed(1)}–${toTime.toFixed(1)} s, ${speeds}${engine}${gear === undefined ? '' : `, gear group ${gear} of this log`}`,
    indented(wrapped(`full load because: ${reason}`, width - 2, '  ')),
  ];
}

function basisText({ basis }: Peak, { curve }: PullResult): string {
  if (basis === 'one second') return 'mean over 1 s';
  return basis === 'samples' ? 'highest single sample' : `curve, ${curve.bandwidth.toFixed(1)} Hz`;
}

/** What the smoothing of the curve does to its peak. */
function bandwidthLine(curve: PowerCurve): string {
  return `  Curve: ${bandwidthText(curve)}.`;
}

/** Several pulls side by side: each power with its basis is a column that any of them has. */
function peakTable(pulls: readonly PullResult[], { system }: TextStyle): readonly string[] {
  const bandwidth = pulls[0]?.curve.bandwidth.toFixed(1);
  const bases = { curve: `${bandwidth} Hz`, 'one second': 'over 1 s', samples: '1 sample' } as const;
  const kinds = pulls
    .flatMap(({ peaks }) => peaks)
    .filter(({ what }) => what.endsWith('power'))
    .map(({ what, basis }) => ({ what, basis, heading: `${what.replace(' power', '')}, ${bases[basis]}` }));
  const columns = [...new Map(kinds.map((kind) => [kind.heading, kind])).values()];
  const rows = pulls.map(({ segment, peaks, refusal }, i) => [
    String(i + 1),
    `${segment.fromTime.toFixed(1)}–${segment.toTime.toFixed(1)} s`,
    ...columns.map(({ what, basis }) => {
      const peak = peaks.find((one) => one.what === what && one.basis === basis);
      return peak && !refusal ? withBand(peak.value, peak.standardUncertainty, { kind: 'power', system }) : '–';
    }),
  ]);
  const headings = columns.map(({ heading }) => ({ heading, align: 'right' as const }));
  const table = textTable([{ heading: 'pull', align: 'right' }, { heading: 'when' }, ...headings], rows);
  return ['', 'Peak powers', indented(table)];
}

/** Lines of the chain that could not be computed; what all pulls lack is said once. */
function missingLines(pulls: readonly PullResult[], { width }: TextStyle): readonly string[] {
  const texts = [...new Set(pulls.flatMap(({ curve }) => curve.missing))];
  return texts.map((text) => {
    const of = pulls.flatMap(({ curve }, i) => (curve.missing.includes(text) ? [i + 1] : []));
    const lead = of.length === pulls.length ? '' : `pull ${of.join(', ')}: `;
    return indented(wrapped(`· ${lead}${text}`, width - 2, '  '));
  });
}

function clockLines({ alignment, findings }: EntryResult, { width }: TextStyle): readonly string[] {
  const hint = 'An offset is set with --nudge "0.12 s" here, or as nudge: of the entry in day.yaml.';
  if (findings.some(({ kind, weight }) => kind === 'logs-not-joined' && weight !== 'note'))
    return ['', wrapped(hint, width)];
  if (!alignment || alignment.by === 'same clock') return [];
  return [
    '',
    wrapped(`Clocks ${joinText(alignment)}`, width, '  '),
    ...alignment.pieces.map((piece) => `  ${clockText(piece)}`),
  ];
}
