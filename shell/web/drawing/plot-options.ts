import type uPlot from 'uplot';
import { axisSteps } from './axis-steps.ts';
import { type Ink, LOOKS } from './ink.ts';
import { drawCrowd, drawMarks } from './plot-marks.ts';
import { type Hatch, isSingle, type PlotColumns, type PlotSpec } from './plot-spec.ts';
import { drawTags, TAG_ROOM } from './plot-tags.ts';

/** Dash patterns, so that no line is told by colour alone. */
const DASHES: readonly (readonly number[])[] = [[], [10, 5], [2, 4], [14, 4, 2, 4], [6, 3], [2, 2, 8, 2]];

/** Dots close together: no line of data has them. */
const GUIDE_DASH = [1.5, 3.5];

const X_AXIS = 40;

interface Size {
  readonly width: number;
  readonly height: number;
}

/** uPlot's options for a plot. Behaviour (cursor, zoom) is added by the component. latest: the plot as it is now, of the same shape as `spec`. */
export function plotOptions(
  { spec, latest }: { readonly spec: PlotSpec; readonly latest: () => PlotSpec },
  columns: PlotColumns,
  { ink, size }: { ink: Ink; size: Size },
): uPlot.Options {
  // A slim drawing above another one of the same axis leaves its numbers to the lowest.
  const bare = spec.height === 'slim' && spec.xLabel === '';
  const axis = {
    stroke: ink.text,
    font: ink.font,
    labelFont: ink.font,
    labelSize: 22,
    splits: placesOf,
    values: plainNumbers,
    grid: { stroke: ink.rule, width: 1 },
    ticks: { stroke: ink.rule },
  };
  return {
    ...size,
    legend: { show: false },
    scales: {
      x: { time: false, range: ({ width }, low, high) => withTagRoom(xRange(low, high, latest()), latest(), width) },
      y: { range: (_plot, low, high) => yRange(low, high, latest()) },
    },
    axes: [
      bare
        ? { ...axis, values: noNumbers, size: BARE_AXIS }
        : {
            ...axis,
            ...(spec.xLabel !== '' && { label: spec.xLabel }),
            ...(spec.xSteps && { incrs: [...spec.xSteps] }),
            size: X_AXIS,
          },
      { ...axis, label: spec.yLabel, size: 64 },
    ],
    series: [{}, ...columns.columns.map(({ line, part }) => seriesOf(spec, { line, part }, ink))],
    bands: bandsOf(spec, columns, ink),
    hooks: {
      drawClear: [(plot) => drawHatches(plot, latest(), ink)],
      drawAxes: [(plot) => drawCrowd(plot, latest(), ink)],
      draw: [(plot) => drawTags(plot, latest(), ink), (plot) => drawMarks(plot, latest(), ink)],
    },
  };
}

const BARE_AXIS = 8;

function noNumbers(_plot: uPlot, splits: number[]): string[] {
  return splits.map(() => '');
}

/** At least two numbers on every axis, however low the drawing is. */
function placesOf(...[, , low, high, step]: [uPlot, number, number, number, number]): number[] {
  return [...axisSteps(low, high, step).places];
}

/** No grouping signs: a comma is a decimal sign to half of the readers. All with the same decimals. */
function plainNumbers(_plot: uPlot, splits: number[]): string[] {
  const decimals = Math.max(0, ...splits.map((value) => decimalsOf(Number(value.toPrecision(6)))));
  return splits.map((value) => value.toFixed(decimals).replace('-', '\u2212'));
}

function decimalsOf(value: number): number {
  return String(value).split('.')[1]?.length ?? 0;
}

function seriesOf(spec: PlotSpec, { line, part }: PlotColumns['columns'][number], ink: Ink): uPlot.Series {
  const { look = 1, label = '', faint = false, guide = false } = spec.lines[line] ?? {};
  const at = (look - 1) % LOOKS;
  const edge = part !== 'middle';
  return {
    label,
    stroke: edge ? 'transparent' : guide ? ink.text : faint ? ink.faint : (ink.lines[at] ?? ink.text),
    width: edge ? 0 : faint ? 1 : guide ? 1.5 : ink.width,
    dash: faint ? [] : guide ? GUIDE_DASH : [...(DASHES[at] ?? [])],
    points: { show: part === 'middle' && single(spec, line), size: 9, fill: ink.lines[at] ?? ink.text },
    spanGaps: false,
    pxAlign: 0,
  };
}

/** One lonely point has no line to show: it gets a dot. */
function single(spec: PlotSpec, line: number): boolean {
  return isSingle(spec.lines[line]?.y ?? []);
}

function bandsOf(spec: PlotSpec, { columns }: PlotColumns, ink: Ink): uPlot.Band[] {
  return columns.flatMap(({ line, part }, at) => {
    const look = ((spec.lines[line]?.look ?? 1) - 1) % LOOKS;
    return part === 'upper'
      ? [{ series: [at + 1, at + 2] as [number, number], fill: ink.bands[look] ?? ink.rule }]
      : [];
  });
}

/** All of the lines and the marks, unless a range is fixed. One single x gets room to both sides. */
function xRange(low: number | null, high: number | null, { range, marks = [] }: PlotSpec): [number, number] {
  if (range) return [range.from, range.to];
  const known = [low, high, ...marks.map(({ x }) => x)].filter((x): x is number => x !== null && Number.isFinite(x));
  const [from, to] = [Math.min(...known), Math.max(...known)];
  if (!Number.isFinite(from) || !Number.isFinite(to)) return [0, 1];
  return from < to ? [from, to] : [from - (Math.abs(from) * 0.05 || 1), to + (Math.abs(to) * 0.05 || 1)];
}

/** Room on the left for the words before the lines. */
function withTagRoom([from, to]: [number, number], { lines, range }: PlotSpec, width: number): [number, number] {
  if (range || !lines.some(({ tag }) => tag !== undefined)) return [from, to];
  const share = Math.min(MOST_TAG_ROOM, TAG_ROOM / Math.max(1, width));
  return [from - ((to - from) * share) / (1 - share), to];
}

const MOST_TAG_ROOM = 0.25;

/** All of the lines, marks and levels with a little room, down to the floor at least. */
function yRange(low: number | null, high: number | null, spec: PlotSpec): [number, number] {
  const { floor, marks = [], levels = [] } = spec;
  const edges = levels.flatMap(({ y, spread = 0 }) => [y - spread, y + spread]);
  const all = [low, high, ...marks.map(({ y }) => y), ...edges];
  const known = all.filter((y): y is number => y !== null && Number.isFinite(y));
  if (known.length === 0) return [0, 1];
  const [lowest, highest] = [Math.min(...known), Math.max(...known)];
  const bottom = floor === undefined ? lowest : Math.min(floor, lowest);
  const room = (highest - bottom) * ROOM || Math.abs(highest) * 0.05 || 1;
  // A word over a limit, or under a mark, wants a line of its own.
  const above = levels.length > 0 ? WORD : 1;
  const below = marks.some((mark) => mark.below) || levels.some(({ y }) => y < 0) ? WORD : 1;
  return [floor !== undefined && bottom === floor ? bottom : bottom - below * room, highest + above * room];
}

/** Room above and below what is drawn, as a share of it; and how much more of it a word takes. @source our default */
const ROOM = 0.06;
const WORD = 2.4;

const HATCH_STEP = 12;

function drawHatches(plot: uPlot, { hatches, shades = [] }: PlotSpec, ink: Ink): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.fillStyle = ink.shade;
  for (const { from, to } of shades) {
    const left = plot.valToPos(from, 'x', true);
    ctx.fillRect(left, bbox.top, Math.max(3 * devicePixelRatio, plot.valToPos(to, 'x', true) - left), bbox.height);
  }
  ctx.strokeStyle = ink.hatch;
  // Thin and far apart where a line of data is to be read through them.
  for (const shade of shades) drawStrokes(plot, shade, { width: 0.75, step: 2 * HATCH_STEP });
  for (const hatch of hatches) drawStrokes(plot, hatch, { width: 1.5, step: HATCH_STEP });
  ctx.restore();
}

function drawStrokes(
  plot: uPlot,
  { from, to }: Hatch,
  { width, step }: { readonly width: number; readonly step: number },
): void {
  const { ctx, bbox } = plot;
  const left = plot.valToPos(from, 'x', true);
  const right = Math.max(left + 2, plot.valToPos(to, 'x', true));
  ctx.save();
  ctx.lineWidth = devicePixelRatio * width;
  ctx.beginPath();
  ctx.rect(left, bbox.top, right - left, bbox.height);
  ctx.clip();
  ctx.beginPath();
  for (let x = left - bbox.height; x < right; x += step * devicePixelRatio) {
    ctx.moveTo(x, bbox.top + bbox.height);
    ctx.lineTo(x + bbox.height, bbox.top);
  }
  ctx.stroke();
  ctx.restore();
}
