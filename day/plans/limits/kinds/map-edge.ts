import { AIR, type CompressorMap, type MapBorder, mapPoint } from '../../../../core/physics/index.ts';
import { massFlow, ratio } from '../../../../core/quantities/index.ts';

/** Where a compressor map ends at a pressure ratio: corrected flow [kg/s] and the border there. */
export interface MapEdge {
  readonly flow: number;
  readonly border: MapBorder;
}

/** Smallest and largest flow of a map at a pressure ratio; undefined where no measured line reaches it. @source crossings of the outline */
export function mapEdges(
  { outline, mesh }: CompressorMap,
  pressureRatio: number,
): { readonly smallest: MapEdge; readonly largest: MapEdge } | undefined {
  const y = pressureRatio / mesh.ratioScale;
  const crossings: MapEdge[] = [];
  outline.borders.forEach((border, i) => {
    const [y1, y2] = [outline.y[i], outline.y[i + 1]];
    if (y1 === y2 || y < Math.min(y1, y2) || y > Math.max(y1, y2)) return;
    const x = outline.x[i] + ((y - y1) / (y2 - y1)) * (outline.x[i + 1] - outline.x[i]);
    crossings.push({ flow: x * mesh.flowScale, border });
  });
  if (crossings.length < 2) return undefined;
  crossings.sort((a, b) => a.flow - b.flow);
  return { smallest: crossings[0], largest: crossings[crossings.length - 1] };
}

/** Farthest that a map is carried beyond its fastest line, as a share of speed [1]. @source our default */
const FARTHEST = 0.12;
const GAS_EXPONENT = (AIR.heatRatio - 1) / AIR.heatRatio;

/**
 * Corrected speed beyond the fastest measured line [rad/s], and how far beyond it lies [1]; undefined when the point does not lie there.
 *
 *     flow ∝ n,   π^((k−1)/k) − 1 ∝ n²        the point is carried back until it meets the fastest line
 *
 * @valid   a few percent: choking and Mach number make the real machine need more speed still
 * @source  similarity of turbomachines: Dixon & Hall, ch. 2 (from memory); how far: our default
 */
export function beyondFastestLine(
  map: CompressorMap,
  point: { readonly flow: number; readonly pressureRatio: number },
): { readonly speed: number; readonly beyond: number } | undefined {
  const head = point.pressureRatio ** GAS_EXPONENT - 1;
  const inside = (scale: number) => {
    const pressureRatio = (1 + head / scale ** 2) ** (1 / GAS_EXPONENT);
    return mapPoint(map, massFlow(point.flow / scale), ratio(pressureRatio));
  };
  const outer = inside(1);
  if (outer.kind === 'inside' || outer.border !== 'fastest line') return undefined;
  let low = 1;
  let high = 1 + FARTHEST;
  if (inside(high).kind === 'outside') return undefined;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (inside(middle).kind === 'outside') low = middle;
    else high = middle;
  }
  const met = inside(high);
  return met.kind === 'inside' ? { speed: met.speed * high, beyond: high - 1 } : undefined;
}
