import { formatQuantity } from '../../../core/quantities/index.ts';
import type {
  AdviceView,
  CoolerSeriesView,
  LimitRow,
  LimitsView,
  NextView,
  RoomView,
  ScaledView,
} from '../../contract/index.ts';
import { adviceText } from './advice-text.ts';
import { BANDS } from './bands.ts';
import { coolerText } from './cooler-text.ts';
import { roomText } from './room-text.ts';
import { scaledText } from './scaled-text.ts';
import type { TextStyle } from './style.ts';
import { indented, textTable, wrapped } from './table.ts';

interface Told {
  readonly limits: LimitsView;
  readonly next: NextView;
  readonly room?: RoomView | undefined;
  readonly advice: AdviceView;
  readonly scaled?: ScaledView | undefined;
  readonly series?: CoolerSeriesView | undefined;
}

/** all: with the values it rests on. advice: in full. at: the step as it was written; absent: none was. */
interface Words {
  readonly all: boolean;
  readonly advice: boolean;
  readonly at?: string | undefined;
}

/** Every limit of one step: the first to bite in a sentence, then a line each, what cannot be told, what it rests on. */
export function limitsText(
  { limits, next, room, series, advice, scaled }: Told,
  style: TextStyle,
  words: Words,
): string {
  const { all, at } = words;
  const { dayTitle, invented, step, pulls, findings, cautions, unknown } = limits;
  const blind = limits.limits.filter(({ tightest, applies }) => tightest === undefined && applies !== false);
  const line = (text: string): string => wrapped(text, style.width, '  ');
  return [
    line(`${dayTitle}: ${at?.trim() || 'the step that was driven last'}`),
    ...(invented === undefined ? [] : [line(`Invented: ${invented}`)]),
    '',
    line(next.sentence),
    ...(next.next.length > 1 ? [indented(nextTable(next, style))] : []),
    ...(next.goal ? ['', line(next.goal.sentence), indented(goalTable(next.goal, style))] : []),
    ...(room ? ['', roomText(room, style)] : []),
    ...(series ? ['', coolerText(series, style)] : []),
    '',
    `At ${step}:`,
    ...(limits.cooler ? [line(limits.cooler.sentence)] : []),
    limitTable(limits, style),
    ...(limits.limits.some(({ usual }) => usual) ? ['* a usual value of the trade: nobody stated this limit'] : []),
    ...limits.limits.flatMap(learntLines).map(line),
    ...blind.map(({ title, why }) => line(`cannot tell ${title}: ${why ?? 'nothing is known of it'}`)),
    ...noneLines(limits.limits).map(line),
    '',
    adviceText(advice, style, words.advice),
    ...(scaled ? ['', scaledText(scaled, style)] : []),
    '',
    line(basisText(pulls)),
    ...unknown.map((what) => line(`? ${what}`)),
    ...findings.map(({ message }) => line(`· ${message}`)),
    ...(all ? ['', valueTable(limits, style)] : []),
    '',
    ...cautions.map(line),
    BANDS,
  ].join('\n');
}

/** Limits that are none of this engine's, with the reason they share. */
function noneLines(limits: readonly LimitRow[]): readonly string[] {
  const none = limits.filter(({ applies }) => applies === false);
  const reasons = [...new Set(none.map(({ why }) => why ?? ''))];
  return reasons.map((reason) => {
    const names = none.filter(({ why }) => (why ?? '') === reason).map(({ title }) => title);
    return `none of this engine’s: ${names.join(', ')} (${reason})`;
  });
}

/** What the day itself taught about a limit. */
function learntLines({ title, learnt = [] }: LimitRow): readonly string[] {
  return learnt.map((words) => `${title}: learnt from ${words}`);
}

function basisText(pulls: number): string {
  if (pulls === 0) return 'No pull went into this: it rests on stated parts and usual values of the trade.';
  return `Calibrated to ${pulls} clean ${pulls === 1 ? 'pull' : 'pulls'} of the day.`;
}

function nextTable({ next }: NextView, { system }: TextStyle): string {
  return textTable(
    [{ heading: 'limit' }, { heading: 'passed from', align: 'right' }, { heading: 'near', align: 'right' }],
    next.map(({ title, manifoldPressure, standardUncertainty, speed, everywhere }) => [
      title,
      everywhere ? 'any pressure' : pressureText(manifoldPressure, standardUncertainty, system),
      formatQuantity(speed, 'engine-speed', { system }),
    ]),
  );
}

/** A pressure whose band is as wide as itself says no more than about where. */
function pressureText(value: number, spread: number | null, system: TextStyle['system']): string {
  const wide = spread !== null && 2 * spread > 0.6 * value;
  return wide
    ? `about ${formatQuantity(value, 'absolute-pressure', { system, decimals: 0 })}`
    : formatQuantity(value, 'absolute-pressure', { system, ...banded(spread) });
}

function goalTable({ rows }: NonNullable<NextView['goal']>, { system, width }: TextStyle): string {
  return textTable(
    [
      { heading: 'speed', align: 'right' },
      { heading: 'needs', align: 'right' },
      { heading: 'passes, likelier than not', wraps: true },
    ],
    rows.map(({ speed, manifoldPressure, standardUncertainty, passed }) => [
      formatQuantity(speed, 'engine-speed', { system }),
      manifoldPressure === null
        ? 'out of reach'
        : formatQuantity(manifoldPressure, 'absolute-pressure', { system, ...banded(standardUncertainty) }),
      manifoldPressure === null ? '–' : passed.join(', ') || 'nothing',
    ]),
    width - 2,
  );
}

function limitTable({ limits, speed }: Pick<LimitsView, 'limits' | 'speed'>, style: TextStyle): string {
  const rows = limits.filter(({ tightest }) => tightest !== undefined);
  return textTable(
    [
      { heading: 'limit' },
      { heading: 'worst at', align: 'right' },
      { heading: 'asked', align: 'right' },
      { heading: 'there', align: 'right' },
      { heading: 'margin', align: 'right' },
      { heading: 'passed', align: 'right' },
    ],
    rows.map((row) => cellsOf(row, speed.indexOf(row.tightest?.speed ?? Number.NaN), style)),
  );
}

function cellsOf(
  { title, kind, tightest, required, available, usual }: LimitRow,
  at: number,
  { system }: TextStyle,
): string[] {
  if (!tightest) return [title];
  const value = (values: LimitRow['required']) => formatQuantity(values[at] ?? Number.NaN, kind, { system });
  return [
    title,
    formatQuantity(tightest.speed, 'engine-speed', { system }),
    value(required),
    `${value(available)}${usual ? '*' : ' '}`,
    `${marginText(tightest.margin)}${spreadText(tightest.marginUncertainty)}`,
    chanceText(tightest.over),
  ];
}

function marginText(margin: number): string {
  return `${margin < 0 ? '−' : '+'}${Math.abs(100 * margin).toFixed(0)}`;
}

function spreadText(spread: number | null): string {
  return spread === null ? ' %' : ` ± ${(200 * spread).toFixed(0)} %`;
}

/** Chance that a limit is passed, in the words of people. */
export function chanceText(over: number): string {
  if (over < 0.005) return '< 1 %';
  return over > 0.995 ? '> 99 %' : `${Math.round(100 * over)} %`;
}

function valueTable({ values }: LimitsView, { system, width }: TextStyle): string {
  return textTable(
    [
      { heading: 'rests on' },
      { heading: 'value', align: 'right' },
      { heading: 'from' },
      { heading: 'source', wraps: true },
    ],
    values.map(({ title, value, standardUncertainty, kind, origin, source }) => [
      title,
      formatQuantity(value ?? Number.NaN, kind, { system, ...banded(standardUncertainty) }),
      origin,
      source,
    ]),
    width,
  );
}

function banded(spread: number | null): { readonly standardUncertainty?: number } {
  return spread !== null && spread > 0 ? { standardUncertainty: 2 * spread } : {};
}
