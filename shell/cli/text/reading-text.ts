import { MEANINGS, matters, type Proposal } from '../../../day/channels/index.ts';
import type { FileReading } from '../../desk/index.ts';
import type { OpenedLog } from '../open-log.ts';
import { findingLines } from './findings.ts';
import { indented, textTable, wrapped } from './table.ts';

/** One log: how it is written, a line for every column, what must be known, what must be decided. */
export function readingText({ path, read }: OpenedLog, reading: FileReading, width: number): string {
  const anyMissing = reading.columns.some(({ missing }) => missing > 0);
  const shown = reading.columns.map(({ name, unit, low, high, missing, proposal }) => {
    const { meaning, position, origin, confidence, reason } = proposal;
    return {
      reason,
      cells: [
        unit === '' ? name : `${name} [${unit}]`,
        rangeText(low, high),
        ...(anyMissing ? [missing === 0 ? '' : String(missing)] : []),
        `${MEANINGS[meaning].title}${position === undefined ? '' : `, ${position}`}${origin === 'measured' ? '' : ` (${origin})`}`,
        proposal.unit === '1' ? '' : proposal.unit,
        meaning === 'unknown' ? '' : `${Math.round(100 * confidence)} %`,
      ],
    };
  });
  const reasons = new Set(shown.map(({ reason }) => reason));
  const [shared] = reasons.size === 1 && shown.length > 1 ? reasons : [];
  const columns = [
    { heading: 'column', wraps: true },
    { heading: 'from–to', align: 'right' as const },
    ...(anyMissing ? [{ heading: 'missing', align: 'right' as const }] : []),
    { heading: 'believed to be', wraps: true },
    { heading: 'in' },
    { heading: 'sure', align: 'right' as const },
    ...(shared === undefined ? [{ heading: 'because', wraps: true }] : []),
  ];
  const rows = shown.map(({ cells, reason }) => (shared === undefined ? [...cells, reason] : cells));
  const findings = findingLines(reading.findings, width);
  const asked = (proposals: readonly Proposal[]): readonly string[] =>
    proposals.map(({ column, question }) => wrapped(`? ${column}: ${question ?? 'what is it?'}`, width, '  '));
  const needed = asked(read.open.filter(matters));
  const optional = asked(read.open.filter((proposal) => !matters(proposal)));
  return [
    `${path}: ${reading.table.rows} rows, ${reading.columns.length} columns,`,
    `  ${formatText(reading)}`,
    ...reading.table.preamble.slice(0, PREAMBLE).map((line) => indented(wrapped(`| ${line.trim()}`, width - 2, '| '))),
    '',
    textTable(columns, rows, width),
    ...(shared === undefined ? [] : ['', wrapped(`For every column: ${shared}.`, width)]),
    ...(findings.length > 0 ? ['', 'Findings', ...findings] : []),
    ...(needed.length > 0 ? ['', 'To be decided (--column "NAME = MEANING, UNIT")', ...needed] : []),
    ...(optional.length > 0 ? ['', 'Can wait; the column is not used until it is decided', ...optional] : []),
  ].join('\n');
}

/** Lines above the header that are shown. @source our default */
const PREAMBLE = 6;

function rangeText(low: number, high: number): string {
  if (!Number.isFinite(low) || !Number.isFinite(high)) return '';
  const text = (value: number): string => String(Number(value.toPrecision(4)));
  return low === high ? text(low) : `${text(low)} – ${text(high)}`;
}

function formatText({ table: { format } }: FileReading): string {
  if (format.kind !== 'delimited') return format.kind;
  const { delimiter, decimal, encoding, headerLine, unitLine } = format.dialect;
  const names = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar', ' ': 'space' };
  const units = unitLine > 0 ? `, units in line ${unitLine}` : '';
  const header = headerLine > 0 ? `header in line ${headerLine}` : 'no header';
  return `${names[delimiter]}-delimited ${encoding}, decimal ${decimal === '.' ? 'point' : 'comma'}, ${header}${units}`;
}
