import { formatQuantity, type QuantityKind } from '../../../core/quantities/index.ts';
import type { AdviceRow, AdviceView, GearRow, GearsView, TractionView } from '../../contract/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

/** What could be done about a step: a sentence each for straps, gear and plugs; `full` with tables, notes and cautions. */
export function adviceText({ traction, gears, plugs }: AdviceView, style: TextStyle, full: boolean): string {
  const line = (text: string): string => wrapped(text, style.width, '  ');
  const note = (text: string): string => wrapped(`· ${text}`, style.width, '  ');
  if (!full)
    return [
      'What could be done (--advice tells more):',
      ...[traction, gears, plugs].map(({ sentence }) => line(sentence)),
    ].join('\n');
  return [
    'What could be done:',
    line(traction.sentence),
    ...(traction.rows.length > 0 ? [indented(loadTable(traction, style))] : []),
    ...traction.notes.map(note),
    '',
    line(gears.sentence),
    ...(gears.gears.length > 0 ? [indented(gearTable(gears, style))] : []),
    ...gears.notes.map(note),
    '',
    line(plugs.sentence),
    ...plugs.lines.map(note),
    '',
    ...[...traction.cautions, ...plugs.cautions].map(line),
  ].join('\n');
}

function loadTable({ rows }: TractionView, style: TextStyle): string {
  return textTable(
    [
      { heading: 'at the driven axle', wraps: true },
      { heading: 'even odds', align: 'right' },
      { heading: '19 in 20', align: 'right' },
    ],
    rows.map((row) => [row.title, valueText(row, style), safeText(row, style)]),
    style.width - 2,
  );
}

function valueText({ value, standardUncertainty, kind }: AdviceRow, { system }: TextStyle): string {
  const spread = standardUncertainty !== null && standardUncertainty > 0 ? 2 * standardUncertainty : undefined;
  const banded = spread === undefined ? {} : { standardUncertainty: spread };
  return formatQuantity(value ?? Number.NaN, kind, { system, ...decimals(kind), ...banded });
}

function safeText({ safe, kind }: AdviceRow, { system }: TextStyle): string {
  return safe === null ? '' : formatQuantity(safe, kind, { system, ...decimals(kind) });
}

function decimals(kind: QuantityKind): { readonly decimals: number } {
  return { decimals: kind === 'ratio' ? 2 : 0 };
}

function gearTable({ gears }: GearsView, style: TextStyle): string {
  const names = [...new Set(gears.flatMap(({ margins }) => margins.map(({ name }) => name)))];
  return textTable(
    [
      { heading: 'gear' },
      { heading: 'overall', align: 'right' },
      { heading: 'force', align: 'right' },
      { heading: 'speed', align: 'right' },
      { heading: 'power', align: 'right' },
      ...names.map((heading) => ({ heading, align: 'right' as const })),
      { heading: '', wraps: true },
    ],
    gears.map((gear) => gearCells(gear, names, style)),
    style.width - 2,
  );
}

function gearCells(gear: GearRow, names: readonly string[], { system }: TextStyle): string[] {
  const { number, overallRatio, force, speed, power, margins } = gear;
  const text = (value: number | undefined, kind: QuantityKind) =>
    formatQuantity(value ?? Number.NaN, kind, { system, decimals: 0 });
  return [
    String(number),
    formatQuantity(overallRatio, 'ratio', { decimals: 2 }),
    text(force?.value, 'force'),
    text(speed?.value, 'speed'),
    text(power?.value, 'power'),
    ...names.map((name) => marginText(margins.find((one) => one.name === name)?.margin)),
    remarks(gear).join(', '),
  ];
}

function marginText(margin: number | undefined): string {
  return margin === undefined ? '–' : `${margin < 0 ? '−' : '+'}${Math.abs(100 * margin).toFixed(0)} %`;
}

function remarks({ best, now, direct }: GearRow): string[] {
  return [...(best ? ['take this'] : []), ...(now ? ['now'] : []), ...(direct ? ['nearest 1:1'] : [])];
}
