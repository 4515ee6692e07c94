import type uPlot from 'uplot';
import type { Ink } from './ink.ts';
import type { MarkSign, PlotLevel, PlotMark, PlotSpec } from './plot-spec.ts';

const RADIUS = 5;
const GAP = 5;

/** Marks without a word, below the lines: there are many of them. */
export function drawCrowd(plot: uPlot, { marks = [] }: PlotSpec, ink: Ink): void {
  plot.ctx.save();
  clipToPlot(plot);
  for (const mark of marks) if (mark.label === undefined) drawMark(plot, mark, ink);
  plot.ctx.restore();
}

function clipToPlot({ ctx, bbox }: uPlot): void {
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
}

/** Levels, and marks with their words, on top of the lines. Sizes are in CSS pixels, times those of the screen. */
export function drawMarks(plot: uPlot, { marks = [], levels = [] }: PlotSpec, ink: Ink): void {
  const { ctx } = plot;
  const scale = devicePixelRatio;
  const named = marks.filter(({ label }) => label !== undefined);
  ctx.save();
  clipToPlot(plot);
  ctx.font = ink.font.replace(/^[\d.]+px/, (size) => `${Number.parseFloat(size) * scale}px`);
  for (const level of levels) drawLevel(plot, level, ink);
  for (const mark of named) drawMark(plot, mark, ink);
  for (const mark of named) drawWords({ plot, ink, levels }, mark);
  ctx.restore();
}

function drawLevel(plot: uPlot, level: PlotLevel, ink: Ink): void {
  const { ctx, bbox } = plot;
  const { y, spread = 0, label } = level;
  const scale = devicePixelRatio;
  const at = plot.valToPos(y, 'y', true);
  const right = bbox.left + bbox.width;
  const [top, bottom] = bandOf(plot, level);
  if (spread > 0) {
    ctx.fillStyle = ink.shade;
    ctx.fillRect(bbox.left, top, bbox.width, bottom - top);
  }
  ctx.strokeStyle = ink.text;
  ctx.lineWidth = 1.5 * scale;
  ctx.setLineDash([1.5 * scale, 3.5 * scale]);
  ctx.beginPath();
  ctx.moveTo(bbox.left, at);
  ctx.lineTo(right, at);
  ctx.stroke();
  ctx.setLineDash([]);
  // above its line and band, unless that is beyond the top
  const above = top - bbox.top > 20 * scale;
  ctx.textAlign = 'right';
  ctx.textBaseline = above ? 'bottom' : 'top';
  ctx.fillStyle = ink.text;
  ctx.fillText(label, right - GAP * scale, above ? top - 2 * scale : bottom + 3 * scale);
}

/** Upper and lower edge of a level with its band [px]. */
function bandOf(plot: uPlot, { y, spread = 0 }: PlotLevel): readonly [number, number] {
  return [plot.valToPos(y + spread, 'y', true), plot.valToPos(y - spread, 'y', true)];
}

function drawMark(plot: uPlot, { x, y, look, sign, spreadX, spreadY }: PlotMark, ink: Ink): void {
  const { ctx } = plot;
  const scale = devicePixelRatio;
  const [left, top] = [plot.valToPos(x, 'x', true), plot.valToPos(y, 'y', true)];
  const colour = ink.lines[(look - 1) % ink.lines.length] ?? ink.text;
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = scale;
  ctx.globalAlpha = 0.6;
  ctx.setLineDash([]);
  ctx.beginPath();
  if (spreadX !== undefined) {
    ctx.moveTo(plot.valToPos(x - spreadX, 'x', true), top);
    ctx.lineTo(plot.valToPos(x + spreadX, 'x', true), top);
  }
  if (spreadY !== undefined) {
    ctx.moveTo(left, plot.valToPos(y - spreadY, 'y', true));
    ctx.lineTo(left, plot.valToPos(y + spreadY, 'y', true));
  }
  ctx.stroke();
  ctx.globalAlpha = 1;
  ctx.lineWidth = 2 * scale;
  outline(ctx, sign, { left, top, radius: RADIUS * scale });
}

function outline(
  ctx: CanvasRenderingContext2D,
  sign: MarkSign,
  { left, top, radius }: { readonly left: number; readonly top: number; readonly radius: number },
): void {
  ctx.beginPath();
  switch (sign) {
    case 'disc':
    case 'ring':
      ctx.arc(left, top, radius, 0, 2 * Math.PI);
      break;
    case 'square':
      ctx.rect(left - radius, top - radius, 2 * radius, 2 * radius);
      break;
    case 'wedge':
      ctx.moveTo(left, top - 1.2 * radius);
      ctx.lineTo(left + 1.1 * radius, top + 0.8 * radius);
      ctx.lineTo(left - 1.1 * radius, top + 0.8 * radius);
      ctx.closePath();
      break;
    case 'diamond':
      ctx.moveTo(left, top - 1.3 * radius);
      ctx.lineTo(left + 1.3 * radius, top);
      ctx.lineTo(left, top + 1.3 * radius);
      ctx.lineTo(left - 1.3 * radius, top);
      ctx.closePath();
      break;
  }
  if (sign === 'disc') ctx.fill();
  else ctx.stroke();
}

interface Words {
  readonly plot: uPlot;
  readonly ink: Ink;
  readonly levels: readonly PlotLevel[];
}

/** Above the mark, or below where its curve comes from above, on the side that has room and under a limit that stands there; on a ground of its own, so that no line runs through it. */
function drawWords({ plot, ink, levels }: Words, { x, y, label, below = false, left: before = false }: PlotMark): void {
  if (label === undefined) return;
  const { ctx, bbox } = plot;
  const scale = devicePixelRatio;
  const [left, top] = [plot.valToPos(x, 'x', true), plot.valToPos(y, 'y', true)];
  const { width } = ctx.measureText(label);
  const away = (RADIUS + GAP) * scale;
  const after = !before && left + away + width < bbox.left + bbox.width;
  const from = after ? left + away : Math.max(bbox.left + 2 * scale, left - away - width);
  const height = Number.parseFloat(ctx.font) * 1.2;
  // clear of the mark where it stands under it or before it
  const clear = RADIUS * scale + 0.75 * height;
  const raised = below ? clear : before ? -clear : -1.6 * RADIUS * scale;
  const wanted = Math.min(Math.max(top + raised, bbox.top + height / 2), bbox.top + bbox.height - height / 2);
  const middle = levels.reduce((at, level) => {
    const [upper, lower] = bandOf(plot, level);
    const meets = at + height / 2 > upper && at - height / 2 < lower;
    return meets ? lower + height / 2 + scale : at;
  }, wanted);
  ctx.fillStyle = ink.sheet;
  ctx.globalAlpha = 0.85;
  ctx.fillRect(from - 2 * scale, middle - height / 2, width + 4 * scale, height);
  ctx.globalAlpha = 1;
  ctx.fillStyle = ink.text;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.fillText(label, from, middle);
}
