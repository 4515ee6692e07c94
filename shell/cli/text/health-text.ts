import { formatQuantity } from '../../../core/quantities/index.ts';
import { withBand } from '../../../day/reports/index.ts';
import type { DayHealth, HealthFinding, HealthValue } from '../../../day/verdicts/index.ts';
import type { TextStyle } from './style.ts';
import { wrapped } from './table.ts';

const STOP = ['', 'look before the next pull', 'HOLD', 'END'] as const;

/** Health of the day in lines: what was found, the gravest first; trends that left their band; what the day leaves open. */
export function healthLines(health: DayHealth, style: TextStyle): readonly string[] {
  const { findings, lines, unknown } = health;
  const line = (text: string): string => wrapped(text, style.width, '  ');
  const counted = findings.filter(({ stopClass, overruled }) => stopClass > 0 && overruled === undefined);
  const overruled = findings.filter((finding) => finding.overruled !== undefined);
  const notes = findings.length - counted.length - overruled.length;
  const left = lines.filter(({ verdict }) => verdict === 'left its band').map(({ name }) => name);
  const beside = [
    notes > 0 ? `${notes} ${notes === 1 ? 'note' : 'notes'}` : '',
    left.length > 0 ? `trends that left their band: ${left.join(', ')}` : '',
    unknown.length > 0 ? `left open: ${[...new Set(unknown.map(({ what }) => what))].join(', ')}` : '',
  ].filter((text) => text !== '');
  return [
    ...[...counted]
      .sort((one, other) => other.stopClass - one.stopClass)
      .map((finding) => line(foundText(finding, style))),
    ...overruled.map((finding) =>
      line(`· ${finding.entry}: ${titleOf(finding)} overruled, because: ${finding.overruled ?? ''}`),
    ),
    ...(counted.length === 0 ? [line('· Nothing was found; that clears no engine.')] : []),
    ...beside.map((text) => line(`· ${text}`)),
  ];
}

function foundText(finding: HealthFinding, style: TextStyle): string {
  const { entry, stopClass, why, values } = finding;
  const numbers = values.map((value) => valueText(value, style)).join('; ');
  return `${stopClass >= 2 ? '!' : '·'} ${entry}: ${titleOf(finding)}, ${STOP[stopClass]}: ${why}${numbers === '' ? '' : ` (${numbers})`}`;
}

function titleOf({ kind }: HealthFinding): string {
  return kind.replaceAll('-', ' ');
}

function valueText({ name, value, kind, limit }: HealthValue, { system }: TextStyle): string {
  const plain = (number: number): string =>
    kind === 'ratio' || kind === 'count'
      ? `${Number(number.toPrecision(3))}`
      : formatQuantity(number, kind, { system });
  const { value: number, standardUncertainty } = value;
  const shown = standardUncertainty > 0 ? withBand(number, standardUncertainty, { kind, system }) : plain(number);
  const held = limit === undefined || !Number.isFinite(limit) ? '' : `, limit ${plain(limit)}`;
  return `${name} ${shown}${held}`;
}
