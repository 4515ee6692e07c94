import type { MapGrid } from './map-grid.ts';

/** What lies beyond each side of a map. */
export type MapBorder = 'surge' | 'choke' | 'fastest line' | 'slowest line';

/** Outline of a map, counter-clockwise in the plane of scaled flow and pressure ratio. Segment i runs from point i to point i + 1. */
export interface MapOutline {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** As long as the segments: one less than the points. */
  readonly borders: readonly MapBorder[];
}

/** Outline of a grid in units of the two scales. */
export function mapOutline(grid: MapGrid, flowScale: number, ratioScale: number): MapOutline {
  const { rows, columns } = grid;
  const nodes: number[] = [];
  const borders: MapBorder[] = [];
  const add = (node: number, border: MapBorder): void => {
    nodes.push(node);
    borders.push(border);
  };
  for (let k = 0; k < columns - 1; k++) add(k, 'slowest line');
  for (let k = 0; k < rows - 1; k++) add((k + 1) * columns - 1, 'choke');
  for (let k = columns - 1; k > 0; k--) add((rows - 1) * columns + k, 'fastest line');
  for (let k = rows - 1; k > 0; k--) add(k * columns, 'surge');
  nodes.push(0);
  return {
    x: Float64Array.from(nodes, (node) => grid.flow[node] / flowScale),
    y: Float64Array.from(nodes, (node) => grid.pressureRatio[node] / ratioScale),
    borders,
  };
}

/**
 * The side of the map beyond which an outside point lies: that of the nearest segment; at a corner, that of the segment which it
 * has passed farther.
 */
export function borderPassed({ x: xs, y: ys, borders }: MapOutline, x: number, y: number): MapBorder {
  let nearest = Number.POSITIVE_INFINITY;
  let farthest = Number.NEGATIVE_INFINITY;
  let found = 0;
  for (let i = 0; i < borders.length; i++) {
    const dx = xs[i + 1] - xs[i];
    const dy = ys[i + 1] - ys[i];
    const px = x - xs[i];
    const py = y - ys[i];
    const square = dx * dx + dy * dy || 1;
    const share = Math.min(1, Math.max(0, (px * dx + py * dy) / square));
    const distance = Math.sqrt((px - share * dx) ** 2 + (py - share * dy) ** 2);
    // to the right of the segment's whole line is outside, for the outline runs counter-clockwise
    const passed = (dy * px - dx * py) / Math.sqrt(square);
    const same = Math.abs(distance - nearest) < 1e-9;
    if (same ? passed <= farthest : distance > nearest) continue;
    if (!same) nearest = distance;
    farthest = passed;
    found = i;
  }
  return borders[found];
}

/** Where a horizontal line through an inside point leaves the map. flow: scaled. */
export interface BorderCrossing {
  readonly border: MapBorder;
  readonly flow: number;
}

/** Nearest borders at the same pressure ratio, to smaller and to larger flow. */
export function crossingsBeside(
  outline: MapOutline,
  x: number,
  y: number,
): { readonly below: BorderCrossing | undefined; readonly above: BorderCrossing | undefined } {
  let below: BorderCrossing | undefined;
  let above: BorderCrossing | undefined;
  outline.borders.forEach((border, i) => {
    const [y1, y2] = [outline.y[i], outline.y[i + 1]];
    if (y1 === y2 || y < Math.min(y1, y2) || y > Math.max(y1, y2)) return;
    const flow = outline.x[i] + ((y - y1) / (y2 - y1)) * (outline.x[i + 1] - outline.x[i]);
    if (flow <= x && (below === undefined || flow > below.flow)) below = { border, flow };
    if (flow >= x && (above === undefined || flow < above.flow)) above = { border, flow };
  });
  return { below, above };
}
