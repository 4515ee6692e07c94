import type { TraceLine, TraceName, TracesView, WindowView } from '../../contract/index.ts';
import type { Hatch, PlotSpec } from '../drawing/plot-spec.ts';
import type { Writing } from '../look/use-preferences.ts';

/** Traces that are drawn in one row: a measured value with its target, or several positions of one meaning. */
export interface TraceRow {
  readonly title: string;
  readonly kind: TraceLine['kind'];
  readonly traces: readonly TraceLine[];
}

/** Groups traces into rows in the order in which they come; one row holds one kind of quantity only. */
export function traceRows(traces: readonly TraceLine[]): readonly TraceRow[] {
  const rows = new Map<string, TraceLine[]>();
  for (const trace of traces) {
    const name = `${FAMILY[trace.meaning] ?? trace.meaning} ${trace.kind}${trace.meaning === 'unknown' ? trace.id : ''}`;
    rows.set(name, [...(rows.get(name) ?? []), trace]);
  }
  return [...rows.values()].flatMap((members) => {
    const [first] = members;
    return first ? [{ title: first.title, kind: first.kind, traces: members }] : [];
  });
}

const FAMILY: Readonly<Record<string, string>> = {
  'manifold-target': 'manifold-pressure',
  'lambda-target': 'lambda',
  'cam-target': 'cam-angle',
};

/** How a trace is named in the legend of its row. */
export function traceLabel({ name, position, file, origin }: TraceName): string {
  const worked = origin === 'measured' ? undefined : origin;
  return [position === undefined ? name : `${name}, ${position}`, worked, file]
    .filter((part) => part !== undefined)
    .join(' · ');
}

/** One row against time: the window is shared by all rows. */
export function timeFigure(row: TraceRow, { from, to }: Pick<TracesView, 'from' | 'to'>, writing: Writing): PlotSpec {
  return {
    label: `${row.title} against time`,
    xLabel: 'seconds from the start of the log',
    yLabel: unitOf(row, writing),
    lines: row.traces.map((trace, at) => ({
      label: traceLabel(trace),
      look: at + 1,
      x: trace.times,
      y: trace.values.map((value) => writing.plain(value, trace.kind)),
    })),
    hatches: [],
    height: 'low',
    range: { from, to },
  };
}

/** One row against engine speed, over the seconds of one pull only: outside it a speed comes more than once. */
export function speedFigure(row: TraceRow, path: SpeedPath, writing: Writing): PlotSpec {
  return {
    label: `${row.title} against engine speed`,
    xLabel: `engine speed, ${writing.symbol('engine-speed')}`,
    yLabel: unitOf(row, writing),
    lines: row.traces.map((trace, at) => ({
      label: traceLabel(trace),
      look: at + 1,
      ...againstSpeed(trace, path, writing),
    })),
    hatches: [],
    height: 'low',
  };
}

/** Void windows as stretches of engine speed, in display units; a window without known speeds has no place on that axis. */
export function hatchedSpeeds(voids: readonly WindowView[], writing: Writing): readonly Hatch[] {
  return voids.flatMap(({ lowSpeed, highSpeed }) => {
    const [from, to] = [writing.plain(lowSpeed, 'engine-speed'), writing.plain(highSpeed, 'engine-speed')];
    return from === null || to === null ? [] : [{ from, to }];
  });
}

/** Where the engine speed was at which time, rising: the middle line of a pull's curve. */
export interface SpeedPath {
  readonly time: readonly (number | null)[];
  readonly speed: readonly (number | null)[];
}

/**
 * A trace's samples with the engine speed at their time as x, in display units. Linear between two points of the path;
 * nothing outside it and nothing across a missing point of the path.
 */
export function againstSpeed(trace: Pick<TraceLine, 'times' | 'values' | 'kind'>, path: SpeedPath, writing: Writing) {
  const x: (number | null)[] = [];
  const y: (number | null)[] = [];
  const points = knownPoints(path);
  let at = 0;
  trace.times.forEach((time, sample) => {
    while ((points[at + 1]?.time ?? Number.POSITIVE_INFINITY) <= time) at += 1;
    const speed = between(points[at], points[at + 1], time);
    if (speed === undefined) return;
    x.push(writing.plain(speed, 'engine-speed'));
    y.push(writing.plain(trace.values[sample] ?? null, trace.kind));
  });
  return { x, y };
}

interface PathPoint {
  readonly at: number;
  readonly time: number;
  readonly speed: number;
}

function knownPoints({ time, speed }: SpeedPath): readonly PathPoint[] {
  return time.flatMap((when, at) => {
    const value = speed[at] ?? null;
    return when === null || value === null ? [] : [{ at, time: when, speed: value }];
  });
}

function between(before: PathPoint | undefined, after: PathPoint | undefined, when: number): number | undefined {
  if (!before || when < before.time) return undefined;
  if (when === before.time) return before.speed;
  if (!after || after.at !== before.at + 1) return undefined;
  return before.speed + ((after.speed - before.speed) * (when - before.time)) / (after.time - before.time);
}

function unitOf({ kind }: TraceRow, writing: Writing): string {
  return writing.symbol(kind);
}

/** Value of a trace at a time: the last sample not after it, unless it is missing or more than `reach` seconds old. */
export function valueAt(
  { times, values }: Pick<TraceLine, 'times' | 'values'>,
  time: number,
  reach = 0.5,
): number | null {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? Number.POSITIVE_INFINITY) <= time) low = middle + 1;
    else high = middle;
  }
  const at = low - 1;
  const when = times[at];
  return when === undefined || time - when > reach ? null : (values[at] ?? null);
}
