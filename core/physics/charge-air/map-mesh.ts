import type { MapGrid } from './map-grid.ts';

/**
 * A map as triangles in the plane of flow and pressure ratio, both scaled by their largest value, with a raster that finds them.
 *
 * planes: {@link PLANE_SIZE} numbers per triangle. Each group of three (a, b, c) is a·x + b·y + c: two barycentric coordinates,
 * speed [rad/s], efficiency [1]. starts, members: triangles of raster cell k are members[starts[k]] … members[starts[k + 1] − 1].
 */
export interface MapMesh {
  readonly flowScale: number;
  readonly ratioScale: number;
  readonly planes: Float64Array;
  readonly starts: Int32Array;
  readonly members: Int32Array;
  /** Share of the mesh area that is folded over [1]; 0 when no two lines cross. */
  readonly folded: number;
}

export const PLANE_SIZE = 12;
export const RASTER = 96;

/** Triangles of a grid, ready for {@link triangleAt}. */
export function mapMesh(grid: MapGrid): MapMesh {
  const flowScale = Math.max(...grid.flow);
  const ratioScale = Math.max(...grid.pressureRatio);
  const points = {
    x: grid.flow.map((flow) => flow / flowScale),
    y: grid.pressureRatio.map((ratio) => ratio / ratioScale),
  };
  const { corners, folded } = triangles(grid, points);
  const planes = new Float64Array((corners.length / 3) * PLANE_SIZE);
  for (let t = 0; t < corners.length / 3; t++) {
    writePlanesInto(planes, t, { corners: corners.subarray(3 * t, 3 * t + 3), points, grid });
  }
  return { flowScale, ratioScale, planes, folded, ...raster(corners, points) };
}

/** Index of the triangle that holds the scaled point, or −1. */
export function triangleAt({ planes, starts, members }: MapMesh, x: number, y: number): number {
  if (!(x >= 0 && x <= 1 && y >= 0 && y <= 1)) return -1;
  const cell = cellOf(y) * RASTER + cellOf(x);
  for (let k = starts[cell]; k < starts[cell + 1]; k++) {
    const at = members[k] * PLANE_SIZE;
    const first = planes[at] * x + planes[at + 1] * y + planes[at + 2];
    if (first < -EDGE) continue;
    const second = planes[at + 3] * x + planes[at + 4] * y + planes[at + 5];
    if (second >= -EDGE && first + second <= 1 + EDGE) return members[k];
  }
  return -1;
}

/** A point on an edge belongs to both neighbours [1]. */
const EDGE = 1e-9;

interface Points {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const cellOf = (x: number): number => Math.min(RASTER - 1, Math.floor(x * RASTER));

/** Two per cell; those without area are left out, those turned over are left out and counted. */
function triangles(grid: MapGrid, { x, y }: Points): { readonly corners: Int32Array; readonly folded: number } {
  const corners: number[] = [];
  let whole = 0;
  let turned = 0;
  const add = (a: number, b: number, c: number): void => {
    const area = (x[b] - x[a]) * (y[c] - y[a]) - (x[c] - x[a]) * (y[b] - y[a]);
    whole += Math.abs(area);
    if (area < 0) turned -= area;
    if (area > 1e-14) corners.push(a, b, c);
  };
  for (let row = 0; row + 1 < grid.rows; row++) {
    for (let column = 0; column + 1 < grid.columns; column++) {
      const at = row * grid.columns + column;
      add(at, at + 1, at + grid.columns);
      add(at + 1, at + grid.columns + 1, at + grid.columns);
    }
  }
  return { corners: Int32Array.from(corners), folded: turned / whole };
}

interface Triangle {
  readonly corners: Int32Array;
  readonly points: Points;
  readonly grid: MapGrid;
}

function writePlanesInto(planes: Float64Array, index: number, { corners, points, grid }: Triangle): void {
  const { x, y } = points;
  const [a, b, c] = corners;
  const area = (x[b] - x[a]) * (y[c] - y[a]) - (x[c] - x[a]) * (y[b] - y[a]);
  const second = [(y[c] - y[a]) / area, (x[a] - x[c]) / area, (x[c] * y[a] - x[a] * y[c]) / area];
  const third = [(y[a] - y[b]) / area, (x[b] - x[a]) / area, (x[a] * y[b] - x[b] * y[a]) / area];
  const plane = (values: Float64Array): number[] =>
    second.map((weight, k) => {
      const slope = weight * (values[b] - values[a]) + third[k] * (values[c] - values[a]);
      return k === 2 ? slope + values[a] : slope;
    });
  planes.set([...second, ...third, ...plane(grid.speed), ...plane(grid.efficiency)], index * PLANE_SIZE);
}

/** Every triangle is listed in each raster cell that its bounding box touches. */
function raster(corners: Int32Array, { x, y }: Points): { readonly starts: Int32Array; readonly members: Int32Array } {
  const lists: number[][] = Array.from({ length: RASTER * RASTER }, () => []);
  for (let t = 0; t < corners.length / 3; t++) {
    const [a, b, c] = corners.subarray(3 * t, 3 * t + 3);
    const right = cellOf(Math.max(x[a], x[b], x[c]) + EDGE);
    const top = cellOf(Math.max(y[a], y[b], y[c]) + EDGE);
    for (let row = cellOf(Math.min(y[a], y[b], y[c]) - EDGE); row <= top; row++) {
      for (let column = cellOf(Math.min(x[a], x[b], x[c]) - EDGE); column <= right; column++) {
        lists[row * RASTER + column].push(t);
      }
    }
  }
  const starts = new Int32Array(lists.length + 1);
  lists.forEach((list, k) => {
    starts[k + 1] = starts[k] + list.length;
  });
  return { starts, members: Int32Array.from(lists.flat()) };
}
