import { answered, type Finding, type Outcome, type Refusal, refused } from '../../quantities/index.ts';
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

/** Share of its pressure ratio by which a slower line may lie above a faster one [1]. @source our default: reading of a printed map */
const CROSSED = 0.02;

/** A line that lies above that of the next higher speed at a flow which both have; undefined where none does. */
function crossedLines(lines: readonly SpeedLine[]): Refusal | undefined {
  for (let k = 0; k + 1 < lines.length; k++) {
    const [slow, fast] = [lines[k], lines[k + 1]];
    for (const flow of [...slow.flow, ...fast.flow]) {
      const [below, above] = [ratioOn(slow, flow), ratioOn(fast, flow)];
      if (!(below > above * (1 + CROSSED))) continue;
      const rpm = (line: SpeedLine): string => (line.speed / KRPM).toFixed(1);
      return {
        kind: 'map-lines-cross',
        message: `invalid map: speed lines cross: at ${flow.toPrecision(3)} kg/s the line of ${rpm(slow)} krpm has ${below.toFixed(2)}, that of ${rpm(fast)} krpm ${above.toFixed(2)}`,
        numbers: { flow, below, above },
      };
    }
  }
  return undefined;
}

const KRPM = (2000 * Math.PI) / 60;

/** Flow over which a line that falls is choked rather than read [1]. @source our default */
const CHOKED = 0.02;

/** Pressure ratio of a line at a flow, straight between its points; NaN beyond them, and where it falls by choking. */
function ratioOn({ flow, pressureRatio }: SpeedLine, at: number): number {
  for (let i = 0; i + 1 < flow.length; i++) {
    if (!(at >= flow[i] && at <= flow[i + 1])) continue;
    const width = flow[i + 1] - flow[i];
    if (width < CHOKED * at) return Number.NaN;
    return pressureRatio[i] + ((at - flow[i]) / width) * (pressureRatio[i + 1] - pressureRatio[i]);
  }
  return Number.NaN;
}

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
  const crossed = crossedLines(lines.value);
  if (crossed) return refused(crossed);
  const grid = mapGrid(lines.value);
  const mesh = mapMesh(grid);
  const numbers = { folded: mesh.folded, limit: LARGEST_FOLD };
  if (mesh.folded > LARGEST_FOLD) {
    return refused({ kind: 'map-lines-cross', message: 'invalid map: speed lines cross', numbers });
  }
  const touching: Finding = {
    kind: 'map-lines-touch',
    weight: 'doubt',
    message: 'speed lines of the map touch',
    numbers,
  };
  const outline = mapOutline(grid, mesh.flowScale, mesh.ratioScale);
  const findings = mesh.folded > 1e-6 ? [...lines.findings, touching] : lines.findings;
  return answered({ reference, lines: lines.value, mesh, outline }, findings);
}
