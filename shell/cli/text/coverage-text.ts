import type { CoverageRowView } from '../../contract/index.ts';
import { textTable, wrapped } from './table.ts';

const WORDS = { full: 'yes', weak: 'weakly', blind: 'no' } as const;

/** What the logs could tell: a line for every fault, what it lacks, and which others it could not be told from. */
export function coverageText(rows: readonly CoverageRowView[], width: number): string {
  const count = (reach: CoverageRowView['reach']) => rows.filter((row) => row.reach === reach).length;
  const head = `Of ${rows.length} faults with these channels: ${count('full')} would show, ${count('weak')} weakly, ${count('blind')} not at all.`;
  const columns = [
    { heading: 'fault', wraps: true },
    { heading: 'shows' },
    { heading: 'what it lacks', wraps: true },
    { heading: 'cannot be told from', wraps: true },
  ];
  const lines = rows.map((row) => [row.title, WORDS[row.reach], lackingText(row), unpartedText(row)]);
  return [wrapped(head, width), '', textTable(columns, lines, width)].join('\n');
}

function lackingText({ reach, lacking, why }: CoverageRowView): string {
  const named = (adds: string) => lacking.filter((one) => one.adds === adds).map(({ channel }) => channel);
  const [alone, parts, surer] = [named('an answer'), named('part of an answer'), named('certainty')];
  if (alone.length > 0) return alone.join(' or ');
  if (parts.length > 0) return parts.join(' and ');
  return reach === 'weak' && surer.length > 0 ? `surer with ${surer.join(', ')}` : (why ?? '');
}

function unpartedText({ unparted }: CoverageRowView): string {
  return unparted
    .map(({ title, add }) => `${title}${add.length > 0 ? ` (without ${add.join(' or ')})` : ''}`)
    .join('; ');
}
