import { formatQuantity } from '../../../core/quantities/index.ts';
import type { CoolerSeriesView } from '../../contract/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

/** The charge cooler over a series of pulls: what each begins and ends with, and how long until it is ready again. */
export function coolerText({ pulls, pause, ready, assumed }: CoolerSeriesView, style: TextStyle): string {
  const { system, width } = style;
  const tank = pulls.some(({ water }) => water !== undefined);
  const kelvin = (value: number): string =>
    formatQuantity(value, 'temperature-difference', { system, decimals: 1 }).replace('Δ', '');
  const right = { align: 'right' as const };
  const headings = [
    { heading: 'pull', ...right },
    { heading: 'begins', ...right },
    { heading: 'ends', ...right },
    { heading: 'charge then', ...right },
    { heading: 'heat', ...right },
    ...(tank
      ? [
          { heading: 'water then', ...right },
          { heading: 'ice left', ...right },
        ]
      : []),
  ];
  const rows = pulls.map(({ start, end, charge, heat, water, ice }, k) => [
    `${k + 1}`,
    kelvin(start),
    kelvin(end),
    charge === null ? '–' : formatQuantity(charge, 'temperature', { system, decimals: 0 }),
    `${(heat / 1000).toFixed(0)} kJ`,
    ...(tank
      ? [
          formatQuantity(water ?? Number.NaN, 'temperature', { system, decimals: 1 }),
          formatQuantity(ice ?? 0, 'mass', { system, decimals: 1 }),
        ]
      : []),
  ]);
  return [
    `Charge cooler over ${pulls.length} pulls, ${(pause / 60).toFixed(1)} min between them (above the air outside):`,
    indented(textTable(headings, rows, width - 2)),
    wrapped(ready, width, '  '),
    ...(assumed.length > 0 ? [wrapped(`Usual values, not stated: ${assumed.join(', ')}.`, width, '  ')] : []),
  ].join('\n');
}
