import { formatQuantity } from '../../../core/quantities/index.ts';
import type { ScaledView } from '../../contract/index.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

/** A result of the day carried to another engine or other air, and what that leaves out. */
export function scaledText(view: ScaledView, style: TextStyle): string {
  const { engine, rows, share, factors, doesNotScale, why } = view;
  const line = (text: string): string => wrapped(text, style.width, '  ');
  if (why !== undefined || !engine) return line(`Nothing to carry over: ${why ?? 'no result'}.`);
  const made = view.sources.find(({ entry }) => entry === view.from);
  const of = [view.from, made?.title].filter((word) => word !== undefined && word !== '').join(' · ');
  const good = share !== undefined && share > 0 ? ` Carrying alone is good to ± ${(200 * share).toFixed(0)} %.` : '';
  const changed = factors.map(({ name, factor }) => `${name} × ${factor.toFixed(3)}`).join('; ');
  return [
    line(`Carried over from entry ${of}:`),
    ...(view.to ? [line(`  ${changesText(engine, view.to, style)}.`)] : []),
    indented(resultTable(rows, style)),
    line(`${changed === '' ? 'Nothing changes: it is the engine and the air of the day.' : `${changed}.`}${good}`),
    ...(doesNotScale.length > 0 ? ['What this does not carry over:'] : []),
    ...doesNotScale.map((words) => wrapped(`· ${words}`, style.width, '  ')),
    ...assumedLines(engine).map(line),
  ].join('\n');
}

const CHANGES = [
  ['displacement', 'displacement', 'volume'],
  ['cylinders', 'cylinders', 'count'],
  ['ambientPressure', 'pressure outside', 'barometric-pressure'],
  ['ambientTemperature', 'temperature outside', 'temperature'],
] as const;

/** What is other there, and what it was: `displacement 2.480 L → 2.000 L`. */
function changesText(
  engine: NonNullable<ScaledView['engine']>,
  to: NonNullable<ScaledView['to']>,
  { system }: TextStyle,
): string {
  return CHANGES.flatMap(([name, words, kind]) => {
    const wanted = to[name];
    if (wanted === undefined) return [];
    return [
      `${words} ${formatQuantity(engine[name].value, kind, { system })} → ${formatQuantity(wanted, kind, { system })}`,
    ];
  }).join(', ');
}

function resultTable(rows: ScaledView['rows'], { system }: TextStyle): string {
  return textTable(
    [
      { heading: 'at the crankshaft' },
      { heading: 'made', align: 'right' },
      { heading: 'near', align: 'right' },
      { heading: 'carried over', align: 'right' },
      { heading: 'near', align: 'right' },
    ],
    rows.map(({ what, before, speed, after, speedAfter }) => {
      const band = ({ value, standardUncertainty }: typeof before): string =>
        formatQuantity(value, what, {
          system,
          ...(standardUncertainty !== null &&
            standardUncertainty > 0 && { standardUncertainty: 2 * standardUncertainty }),
        });
      const rpm = (value: number): string => formatQuantity(value, 'engine-speed', { system });
      return [`highest ${what}`, band(before), rpm(speed), band(after), rpm(speedAfter)];
    }),
  );
}

function assumedLines({ displacement, cylinders }: NonNullable<ScaledView['engine']>): readonly string[] {
  return [
    ...(displacement.stated ? [] : ['The displacement of the day’s engine is a usual value: nobody stated it.']),
    ...(cylinders.stated ? [] : ['Its number of cylinders is a usual value: nobody stated it.']),
  ];
}
