import { combinedUncertainty } from '../../numerics/index.ts';
import {
  type AngularSpeed,
  angularSpeed,
  type MassFlow,
  type Measured,
  massFlow,
  measured,
  type Ratio,
  ratio,
} from '../../quantities/index.ts';
import type { CompressorMap } from './compressor-map.ts';
import { borderPassed, crossingsBeside, type MapBorder } from './map-border.ts';
import { type MapMesh, PLANE_SIZE, triangleAt } from './map-mesh.ts';

/** speed: corrected [rad/s]. efficiency: NaN where the map does not give it. border: beyond which the point lies. */
export type MapPoint =
  | { readonly kind: 'inside'; readonly speed: AngularSpeed; readonly efficiency: Ratio }
  | { readonly kind: 'outside'; readonly border: MapBorder };

/**
 * Corrected shaft speed [rad/s] and efficiency [1] at a corrected flow and a pressure ratio.
 *
 * Nothing is carried beyond the measured lines: outside, the answer is which border was passed.
 *
 * @param flow corrected [kg/s] @param pressureRatio total to total [1]; a NaN in either throws
 * @source  linear in triangles between nodes of {@link mapGrid}
 */
export function mapPoint({ mesh, outline }: CompressorMap, flow: MassFlow, pressureRatio: Ratio): MapPoint {
  const x = flow / mesh.flowScale;
  const y = pressureRatio / mesh.ratioScale;
  if (Number.isNaN(x + y)) throw new RangeError('flow or pressure ratio is missing');
  const triangle = triangleAt(mesh, x, y);
  if (triangle < 0) return { kind: 'outside', border: borderPassed(outline, x, y) };
  return {
    kind: 'inside',
    speed: angularSpeed(planeValue(mesh, triangle * PLANE_SIZE + 6, { x, y })),
    efficiency: ratio(planeValue(mesh, triangle * PLANE_SIZE + 9, { x, y })),
  };
}

/** Columns of corrected flow [kg/s] and pressure ratio [1], equally long. */
export interface MapQueries {
  readonly flow: Float64Array;
  readonly pressureRatio: Float64Array;
}

/** As long as the queries: corrected speed [rad/s] and efficiency [1]. */
export interface MapAnswers {
  readonly speed: Float64Array;
  readonly efficiency: Float64Array;
}

/** {@link mapPoint} for many points at once, without allocation; NaN outside the map and where a query is missing. */
export function mapPointsInto(answers: MapAnswers, { mesh }: CompressorMap, queries: MapQueries): void {
  const { flow, pressureRatio } = queries;
  const n = flow.length;
  if (pressureRatio.length !== n || answers.speed.length !== n || answers.efficiency.length !== n) {
    throw new RangeError('queries and answers of unequal length');
  }
  const { planes, flowScale, ratioScale } = mesh;
  for (let i = 0; i < n; i++) {
    const x = flow[i] / flowScale;
    const y = pressureRatio[i] / ratioScale;
    const triangle = triangleAt(mesh, x, y);
    const at = triangle * PLANE_SIZE;
    answers.speed[i] = triangle < 0 ? Number.NaN : planes[at + 6] * x + planes[at + 7] * y + planes[at + 8];
    answers.efficiency[i] = triangle < 0 ? Number.NaN : planes[at + 9] * x + planes[at + 10] * y + planes[at + 11];
  }
}

/** Flow margins at the same pressure ratio, as shares of the flow [1], each with the border it ends at. */
export interface FlowMargins {
  /** To smaller flow; the border is `surge` on most maps. */
  readonly below: { readonly border: MapBorder; readonly margin: Ratio; readonly flow: MassFlow };
  /** To larger flow: `choke`, or `fastest line` where shaft speed ends the map first. */
  readonly above: { readonly border: MapBorder; readonly margin: Ratio; readonly flow: MassFlow };
}

/**
 * How far the flow can fall or rise at the same pressure ratio before the map ends: (W − Wborder)/W and (Wborder − W)/W.
 *
 * Undefined outside the map.
 *
 * @valid   the border is that of the gas stand; surge in the engine also depends on the volumes and the pulsation behind it
 * @source  definition; at constant pressure ratio because boost control holds pressure (our default)
 */
export function flowMargins(map: CompressorMap, flow: MassFlow, pressureRatio: Ratio): FlowMargins | undefined {
  if (mapPoint(map, flow, pressureRatio).kind === 'outside') return undefined;
  const x = flow / map.mesh.flowScale;
  const { below, above } = crossingsBeside(map.outline, x, pressureRatio / map.mesh.ratioScale);
  if (below === undefined || above === undefined) return undefined;
  return {
    below: {
      border: below.border,
      margin: ratio((x - below.flow) / x),
      flow: massFlow(below.flow * map.mesh.flowScale),
    },
    above: {
      border: above.border,
      margin: ratio((above.flow - x) / x),
      flow: massFlow(above.flow * map.mesh.flowScale),
    },
  };
}

export interface MeasuredMapQuery {
  readonly flow: Measured;
  readonly pressureRatio: Measured;
  /** Relative standard uncertainty of the map's own speeds [1]; default {@link MAP_SPEED_SPREAD}. */
  readonly mapSpread?: number;
}

/** Speed of a map against the same machine on an engine [1]. @source our default: build spread and pulsating flow, no source */
export const MAP_SPEED_SPREAD = 0.015;

/** Corrected speed with its standard uncertainty [rad/s], inputs independent; outside the map the border instead. */
export function measuredMapSpeed(
  map: CompressorMap,
  query: MeasuredMapQuery,
): { readonly kind: 'inside'; readonly speed: Measured } | { readonly kind: 'outside'; readonly border: MapBorder } {
  const { flow, pressureRatio, mapSpread = MAP_SPEED_SPREAD } = query;
  const point = mapPoint(map, massFlow(flow.value), ratio(pressureRatio.value));
  if (point.kind === 'outside') return point;
  const { mesh } = map;
  const at = triangleAt(mesh, flow.value / mesh.flowScale, pressureRatio.value / mesh.ratioScale) * PLANE_SIZE;
  const found = combinedUncertainty({
    inputs: [
      { name: 'corrected flow', ...flow },
      { name: 'pressure ratio', ...pressureRatio },
      { name: 'map', value: 1, standardUncertainty: mapSpread },
    ],
    model: () => point.speed,
    sensitivities: [mesh.planes[at + 6] / mesh.flowScale, mesh.planes[at + 7] / mesh.ratioScale, point.speed],
  });
  return { kind: 'inside', speed: measured(found.value, found.standardUncertainty) };
}

function planeValue({ planes }: MapMesh, at: number, { x, y }: { readonly x: number; readonly y: number }): number {
  return planes[at] * x + planes[at + 1] * y + planes[at + 2];
}
