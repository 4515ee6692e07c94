import type { RoomView } from '../../contract/index.ts';
import type { PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/writing.ts';

type Row = RoomView['rows'][number];

/** What is drawn of a room: which limit it is of, the step's own pressure [Pa]. */
interface RoomPicture {
  readonly rows: readonly Row[];
  /** In words: `every known limit`, or one. */
  readonly of: string;
  readonly own: number | null;
}

/**
 * Highest manifold pressure by engine speed: with even odds, its band two standard uncertainties, and nineteen times of twenty. Speeds at which no pull held such
 * a pressure are hatched; where a limit is passed whatever the pressure, or none is met, the lines are broken.
 */
export function roomFigure({ rows, of, own }: RoomPicture, writing: Writing): PlotSpec {
  const x = rows.map(({ speed }) => writing.plain(speed, 'engine-speed'));
  const pressure = (value: number | undefined): number | null =>
    value === undefined || !(value > 0) ? null : writing.plain(value, 'absolute-pressure');
  const level = own === null ? null : writing.plain(own, 'absolute-pressure');
  return {
    label: `Highest manifold pressure over engine speed that ${of} leaves`,
    xLabel: `engine speed, ${writing.symbol('engine-speed')}`,
    yLabel: `pressure, ${writing.symbol('absolute-pressure')}`,
    lines: [
      {
        ...{ label: 'with even odds', x, look: 1 },
        y: rows.map((row) => pressure(shownOf(row)?.even)),
        spread: rows.map((row) => spreadOf(row, writing)),
      },
      { label: 'nineteen times of twenty', x, y: rows.map((row) => pressure(shownOf(row)?.safe)), look: 2 },
    ],
    ...(level !== null && { levels: [{ y: level, label: 'this step' }] }),
    hatches: unjudged(rows, x),
    height: 'middle',
  };
}

function shownOf({ even, safe, passed }: Row): { readonly even: number; readonly safe: number } | undefined {
  if (passed.length > 0 || !even || !safe) return undefined;
  return { even: even.manifoldPressure, safe: safe.manifoldPressure };
}

function spreadOf(row: Row, writing: Writing): number | null {
  const { even } = row;
  if (!shownOf(row) || !even) return null;
  const upper = writing.plain(even.manifoldPressure + 2 * (even.standardUncertainty ?? 0), 'absolute-pressure');
  const middle = writing.plain(even.manifoldPressure, 'absolute-pressure');
  return upper === null || middle === null ? null : upper - middle;
}

/** Stretches of engine speed at which no pull held such a pressure, up to half way to the next. */
function unjudged(rows: readonly Row[], x: readonly (number | null)[]): PlotSpec['hatches'] {
  const middle = (at: number): number | undefined => {
    const [one, other] = [x[at], x[at + 1]];
    return typeof one === 'number' && typeof other === 'number' ? (one + other) / 2 : undefined;
  };
  return rows.flatMap(({ judged }, at) => {
    const here = x[at];
    if (judged || typeof here !== 'number') return [];
    return [{ from: middle(at - 1) ?? here, to: middle(at) ?? here }];
  });
}

/** Which limits set the room, from low engine speeds up, in words. */
export function setByWords(rows: readonly Row[], writing: Writing): string {
  const parts: { limit: string; from: number; to: number }[] = [];
  for (const row of rows) {
    const limit = row.passed[0] ?? row.even?.limit;
    if (limit === undefined) continue;
    const last = parts.at(-1);
    if (last?.limit === limit) last.to = row.speed;
    else parts.push({ limit, from: row.speed, to: row.speed });
  }
  const speed = (value: number, unit: boolean) => writing.text(value, 'engine-speed', { unit });
  return parts
    .map(({ limit, from, to }) =>
      from === to ? `${limit} at ${speed(from, true)}` : `${limit} from ${speed(from, false)} to ${speed(to, true)}`,
    )
    .join(', ');
}
