import { answered, type Finding, type Outcome, refused } from '../../quantities/index.ts';
import type { GasState } from './corrected-flow.ts';
import { type MapOutline, mapOutline } from './map-border.ts';
import { mapGrid } from './map-grid.ts';
import { type MapColumns, type SpeedLine, speedLines } from './map-lines.ts';
import { type MapMesh, mapMesh } from './map-mesh.ts';

/** A compressor map ready to be asked. Build it once, ask it often. */
export interface CompressorMap {
  readonly reference: GasState;
  readonly lines: readonly SpeedLine[];
  readonly mesh: MapMesh;
  readonly outline: MapOutline;
}

export interface MapInput {
  readonly columns: MapColumns;
  /** State to which speed and flow of the map are corrected. */
  readonly reference: GasState;
}

/** Largest share of a map that may be folded where lines touch [1]. @source our default */
const LARGEST_FOLD = 0.02;

/**
 * A compressor map from its measured rows.
 *
 * Refuses what {@link speedLines} refuses, an impossible reference state, and lines that cross. Lines that touch at the choke side,
 * as those of a choked inlet do, stay; the result says so.
 *
 * @source  how lines are joined: see {@link mapGrid}
 */
export function compressorMap({ columns, reference }: MapInput): Outcome<CompressorMap> {
  if (!(reference.temperature > 200 && reference.temperature < 400 && reference.pressure > 50e3)) {
    const numbers = { temperature: reference.temperature, pressure: reference.pressure };
    const message = 'invalid reference state: expected 200 to 400 K and above 50 kPa';
    return refused({ kind: 'map-reference-invalid', message, numbers });
  }
  const lines = speedLines(columns, reference);
  if (!lines.ok) return lines;
  const grid = mapGrid(lines.value);
  const mesh = mapMesh(grid);
  const numbers = { folded: mesh.folded, limit: LARGEST_FOLD };
  if (mesh.folded > LARGEST_FOLD) {
    return refused({ kind: 'map-lines-cross', message: 'invalid map: speed lines cross', numbers });
  }
  const touching: Finding = { kind: 'map-lines-touch', weight: 'doubt', message: 'speed lines touch', numbers };
  const outline = mapOutline(grid, mesh.flowScale, mesh.ratioScale);
  const findings = mesh.folded > 1e-6 ? [...lines.findings, touching] : lines.findings;
  return answered({ reference, lines: lines.value, mesh, outline }, findings);
}
