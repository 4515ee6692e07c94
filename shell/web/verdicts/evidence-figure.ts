import type { GuideView, OccurrenceView, TraceLine, TracesView } from '../../contract/index.ts';
import type { PlotLine, PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/writing.ts';
import { type TraceRow, timeFigure, traceRows } from '../pulls/traces.ts';

/** Rows of evidence shown at once. @source our default */
export const MOST_ROWS = 5;
/** Positions of one meaning in one row: cylinders and banks beyond these hide each other. @source our default */
const MOST_LINES = 6;

/** Seconds around the windows that are shown, at least: what came before is half of the evidence. @source our default */
const LEAST_AROUND = 1;
/** Seconds before the pull that may be shown, and at its end that are left out: the lift there has another size. @source our default */
const BEFORE = 0.2;
const LIFT = 0.15;

/** The stretch of time to show around an occurrence: as much again to both sides, and no further than the pull: what follows it has another size. */
export function shownAround(
  { windows }: Pick<OccurrenceView, 'windows'>,
  { from, to }: { readonly from: number; readonly to: number },
): { readonly from: number; readonly to: number } {
  if (windows.length === 0) return { from: from - BEFORE, to: to - LIFT };
  const [first, last] = [Math.min(...windows.map((one) => one.from)), Math.max(...windows.map((one) => one.to))];
  const around = Math.max(LEAST_AROUND, last - first);
  return {
    from: Math.max(first - around, Math.min(first, from - BEFORE)),
    to: Math.min(last + around, Math.max(last, to - LIFT)),
  };
}

/** A trace by its name in the log and its place; which file it is from stands with the traces below. */
export function shortLabel({ name, position, origin }: Pick<TraceLine, 'name' | 'position' | 'origin'>): string {
  const parts = [name, position, origin === 'measured' ? undefined : origin];
  return parts.filter((part) => part !== undefined).join(', ');
}

export interface EvidenceRow {
  readonly row: TraceRow;
  readonly spec: PlotSpec;
  readonly guides: readonly GuideView[];
}

/** What speaks, a row each on one axis of time: the windows shaded, each with its limit where it has one. */
export function evidenceRows(view: TracesView, occurrence: OccurrenceView, writing: Writing): readonly EvidenceRow[] {
  const rows = traceRows(view.traces).slice(0, MOST_ROWS);
  return rows.map((full, at) => {
    const row = { ...full, traces: full.traces.slice(0, MOST_LINES) };
    const guides = occurrence.guides.filter(({ meaning }) => row.traces.some((trace) => trace.meaning === meaning));
    const spec = timeFigure(row, view, writing);
    const lines = guides.flatMap((guide) => guideLine(guide, { row, view, writing }) ?? []);
    return {
      row,
      guides,
      spec: {
        ...spec,
        xLabel: at < rows.length - 1 ? '' : spec.xLabel,
        lines: [...spec.lines, ...lines],
        shades: occurrence.windows.map(({ from, to }) => ({ from, to })),
        height: at < rows.length - 1 ? 'slim' : 'slim-last',
      },
    };
  });
}

/** A limit as a line: level, or along the target it counts from. Without that target there is none. */
function guideLine(
  { of, times, add, title }: GuideView,
  { row, view, writing }: { readonly row: TraceRow; readonly view: TracesView; readonly writing: Writing },
): PlotLine | undefined {
  const line = (x: readonly number[], values: readonly (number | null)[]): PlotLine => ({
    ...{ label: `limit: ${title}`, look: 1, guide: true, x },
    y: values.map((value) => writing.plain(value, row.kind)),
  });
  if (of === undefined) return line([view.from, view.to], [add, add]);
  const target: TraceLine | undefined = view.traces.find(({ meaning }) => meaning === of);
  return (
    target &&
    line(
      target.times,
      target.values.map((value) => (value === null ? null : times * value + add)),
    )
  );
}
