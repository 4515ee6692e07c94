import type uPlot from 'uplot';
import type { PlotColumns, PlotSpec } from './plot-spec.ts';

/** Colours and widths of the theme, read where the plot stands. */
export interface Ink {
  readonly text: string;
  readonly rule: string;
  readonly faint: string;
  readonly hatch: string;
  readonly shade: string;
  readonly lines: readonly string[];
  readonly bands: readonly string[];
  readonly width: number;
  readonly font: string;
}

const LOOKS = 6;
/** Dash patterns, so that no line is told by colour alone. */
const DASHES: readonly (readonly number[])[] = [[], [10, 5], [2, 4], [14, 4, 2, 4], [6, 3], [2, 2, 8, 2]];

/** Dots close together: no line of data has them. */
const GUIDE_DASH = [1.5, 3.5];

export function readInk(element: Element): Ink {
  const style = getComputedStyle(element);
  const read = (name: string) => style.getPropertyValue(name).trim();
  const numbered = (prefix: string) => Array.from({ length: LOOKS }, (_, at) => read(`${prefix}${at + 1}`));
  return {
    text: read('--ink'),
    rule: read('--grid'),
    faint: read('--rule'),
    hatch: read('--hatch'),
    shade: read('--shade'),
    lines: numbered('--line-'),
    bands: numbered('--band-'),
    width: Number.parseFloat(read('--line-width')) || 2,
    font: `${read('--plot-font-size') || '14px'} ${style.fontFamily}`,
  };
}

const X_AXIS = 40;

interface Size {
  readonly width: number;
  readonly height: number;
}

/** uPlot's options for a plot. Behaviour (cursor, zoom) is added by the component. */
export function plotOptions(
  spec: PlotSpec,
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
    values: plainNumbers,
    grid: { stroke: ink.rule, width: 1 },
    ticks: { stroke: ink.rule },
  };
  return {
    ...size,
    legend: { show: false },
    scales: {
      x: { time: false, ...(spec.range && { range: () => [spec.range?.from ?? 0, spec.range?.to ?? 1] }) },
      y: { range: (_plot, low, high) => yRange(low, high, spec.floor) },
    },
    axes: [
      bare
        ? { ...axis, values: noNumbers, size: BARE_AXIS }
        : { ...axis, ...(spec.xLabel !== '' && { label: spec.xLabel }), size: X_AXIS },
      { ...axis, label: spec.yLabel, size: 64 },
    ],
    series: [{}, ...columns.columns.map(({ line, part }) => seriesOf(spec, { line, part }, ink))],
    bands: bandsOf(spec, columns, ink),
    hooks: { drawClear: [(plot) => drawHatches(plot, spec, ink)] },
  };
}

const BARE_AXIS = 8;

function noNumbers(_plot: uPlot, splits: number[]): string[] {
  return splits.map(() => '');
}

/** No grouping signs: a comma is a decimal sign to half of the readers. */
function plainNumbers(_plot: uPlot, splits: number[]): string[] {
  return splits.map((value) => String(Number(value.toPrecision(6))));
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
  };
}

/** One lonely point has no line to show: it gets a dot. */
function single(spec: PlotSpec, line: number): boolean {
  return (spec.lines[line]?.y.filter((value) => value !== null).length ?? 0) === 1;
}

function bandsOf(spec: PlotSpec, { columns }: PlotColumns, ink: Ink): uPlot.Band[] {
  return columns.flatMap(({ line, part }, at) => {
    const look = ((spec.lines[line]?.look ?? 1) - 1) % LOOKS;
    return part === 'upper'
      ? [{ series: [at + 1, at + 2] as [number, number], fill: ink.bands[look] ?? ink.rule }]
      : [];
  });
}

function yRange(low: number | null, high: number | null, floor: number | undefined): [number, number] {
  if (low === null || high === null || !Number.isFinite(low) || !Number.isFinite(high)) return [0, 1];
  const bottom = floor === undefined ? low : Math.min(floor, low);
  const room = (high - bottom) * 0.06 || Math.abs(high) * 0.05 || 1;
  return [floor !== undefined && bottom === floor ? bottom : bottom - room, high + room];
}

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
  ctx.lineWidth = devicePixelRatio * 1.5;
  for (const { from, to } of hatches) {
    const left = plot.valToPos(from, 'x', true);
    const right = Math.max(left + 2, plot.valToPos(to, 'x', true));
    ctx.save();
    ctx.beginPath();
    ctx.rect(left, bbox.top, right - left, bbox.height);
    ctx.clip();
    ctx.beginPath();
    const step = HATCH_STEP * devicePixelRatio;
    for (let x = left - bbox.height; x < right; x += step) {
      ctx.moveTo(x, bbox.top + bbox.height);
      ctx.lineTo(x + bbox.height, bbox.top);
    }
    ctx.stroke();
    ctx.restore();
  }
  ctx.restore();
}
