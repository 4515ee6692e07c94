import { formatQuantity } from '../../../core/quantities/index.ts';
import type { RoomView } from '../../contract/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

type Row = RoomView['rows'][number];

/** Highest manifold pressure by engine speed: with even odds and nineteen times of twenty, each with the limit that sets it. */
export function roomText({ rows, unknown, keep }: RoomView, style: TextStyle): string {
  const kept = keep === undefined ? '' : ` with ${formatQuantity(keep, 'fraction')} of the limit in hand`;
  const headings = [
    { heading: 'speed', align: 'right' as const },
    { heading: 'even odds', align: 'right' as const },
    { heading: 'set by', wraps: true },
    { heading: '19 in 20', align: 'right' as const },
    { heading: 'set by', wraps: true },
  ];
  const blind = unknown.length === 0 ? [] : [`Not in it, as nothing can be told of them: ${unknown.join(', ')}.`];
  const early = rows.some(({ judged }) => !judged) ? ['(…): no pull held such a pressure at that speed.'] : [];
  return [
    `Highest manifold pressure by engine speed${kept}:`,
    indented(
      textTable(
        headings,
        rows.map((row) => cellsOf(row, style)),
        style.width - 2,
      ),
    ),
    ...[...early, ...blind].map((text) => wrapped(text, style.width, '  ')),
  ].join('\n');
}

function cellsOf({ speed, even, safe, within, passed, judged }: Row, { system }: TextStyle): string[] {
  const rpm = formatQuantity(speed, 'engine-speed', { system });
  if (passed.length > 0) return [rpm, 'none', `${passed.join(', ')}: passed at any pressure`, 'none', ''];
  const pressure = (value: number, spread?: number | null): string =>
    formatQuantity(value, 'absolute-pressure', {
      system,
      ...(spread ? { standardUncertainty: 2 * spread } : { decimals: 0 }),
    });
  const early = (text: string): string => (judged ? text : `(${text})`);
  if (!even || !safe) {
    const beyond = within === null ? 'unknown' : `over ${pressure(within)}`;
    return [rpm, early(beyond), '', early(beyond), ''];
  }
  return [
    rpm,
    early(pressure(even.manifoldPressure, even.standardUncertainty)),
    even.limit,
    early(safe.manifoldPressure > 0 ? pressure(safe.manifoldPressure) : 'not known'),
    safe.limit,
  ];
}
