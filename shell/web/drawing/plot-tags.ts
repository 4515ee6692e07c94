import type uPlot from 'uplot';
import type { Ink } from './ink.ts';
import type { PlotSpec } from './plot-spec.ts';

/** Room that the words before the lines take [CSS px]. @source our default */
export const TAG_ROOM = 84;
const GAP = 6;

/** A word before the first point of each line that has one, the highest first; one that would cover another is left out. */
export function drawTags(plot: uPlot, { lines }: PlotSpec, ink: Ink): void {
  const { ctx } = plot;
  const scale = devicePixelRatio;
  const size = Number.parseFloat(ink.font) * scale;
  const height = 1.05 * size;
  const places = lines.flatMap(({ tag, x, y }) => {
    const at = x.findIndex((value, sample) => value !== null && typeof y[sample] === 'number');
    const [left, top] = [x[at], y[at]];
    if (tag === undefined || typeof left !== 'number' || typeof top !== 'number') return [];
    return [{ tag, left: plot.valToPos(left, 'x', true) - GAP * scale, top: plot.valToPos(top, 'y', true) }];
  });
  ctx.save();
  ctx.font = ink.font.replace(/^[\d.]+px/, () => `${size}px`);
  ctx.fillStyle = ink.text;
  ctx.textAlign = 'right';
  ctx.textBaseline = 'middle';
  let former = Number.NEGATIVE_INFINITY;
  for (const { tag, left, top } of places.sort((one, other) => one.top - other.top)) {
    if (top - former < height) continue;
    ctx.fillText(tag, left, top);
    former = top;
  }
  ctx.restore();
}
