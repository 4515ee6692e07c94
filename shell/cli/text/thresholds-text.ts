import type { ThresholdLine } from '../../contract/index.ts';
import { textTable } from './table.ts';

/** Every limit in a line: its name as it is written in `--set` and in day.yaml, what is in force, ours, and where ours comes from. */
export function thresholdsText(lines: readonly ThresholdLine[], width: number): string {
  const columns = [
    { heading: 'limit' },
    { heading: 'in force', align: 'right' as const },
    { heading: 'ours', align: 'right' as const },
    { heading: 'set' },
    { heading: 'source of ours', wraps: true },
  ];
  const rows = lines.map(({ name, text, usual, source, set }) => [
    name,
    text === '' ? 'not stated' : text,
    usual === '' ? 'none' : usual,
    set.map(({ scope }) => scope).join(', '),
    source,
  ]);
  return textTable(columns, rows, width);
}
