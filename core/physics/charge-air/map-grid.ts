import { curveValue, type MonotoneCurve, monotoneCurve } from '../../numerics/index.ts';
import type { SpeedLine } from './map-lines.ts';

/**
 * States of a map on a grid, row after row: `rows` speeds from slowest to fastest, `columns` places from surge (0) to choke (1).
 * Every row of the measured map is one of its nodes.
 */
export interface MapGrid {
  readonly rows: number;
  readonly columns: number;
  readonly speed: Float64Array;
  readonly flow: Float64Array;
  readonly pressureRatio: Float64Array;
  readonly efficiency: Float64Array;
}

/**
 * Fills the space between measured speed lines.
 *
 * Along a line a place is the share of the way from surge to choke, with flow and pressure ratio each scaled by the line's own span,
 * so that a vertical choke side is as good as a flat surge side. Flow, pressure ratio and efficiency follow it by curves that do not
 * overshoot. Between lines, at equal place, flow follows speed and pressure ratio follows speed squared by such curves; efficiency is
 * linear, so that a missing value stays where it is.
 *
 * @valid   neighbouring lines of one family; a missing surge or choke end on one line shifts its places
 * @source  our default; head ∝ speed² and flow ∝ speed are the fan laws, Dixon & Hall, ch. 2 (from memory)
 */
export function mapGrid(lines: readonly SpeedLine[]): MapGrid {
  const curves = lines.map(lineCurves);
  const places = gridPlaces(curves.map(({ flow }) => flow.x));
  const speeds = gridSpeeds(lines.map(({ speed }) => speed));
  const grid = emptyGrid(speeds.length, places.length);
  const lineSpeeds = Float64Array.from(lines, ({ speed }) => speed);
  const squares = lineSpeeds.map((speed) => speed * speed);
  places.forEach((place, column) => {
    const flow = monotoneCurve(
      lineSpeeds,
      Float64Array.from(curves, (curve) => curveValue(curve.flow, place)),
    );
    const ratio = monotoneCurve(
      squares,
      Float64Array.from(curves, (curve) => curveValue(curve.pressureRatio, place)),
    );
    const efficiency = Float64Array.from(curves, (curve) => efficiencyAt(curve.efficiency, place));
    speeds.forEach((speed, row) => {
      const at = row * places.length + column;
      grid.speed[at] = speed;
      grid.flow[at] = curveValue(flow, speed);
      grid.pressureRatio[at] = curveValue(ratio, Math.min(speed * speed, squares[squares.length - 1]));
      grid.efficiency[at] = linearBetween(lineSpeeds, efficiency, speed);
    });
  });
  return grid;
}

interface LineCurves {
  readonly flow: MonotoneCurve;
  readonly pressureRatio: MonotoneCurve;
  readonly efficiency: MonotoneCurve | undefined;
}

function lineCurves(line: SpeedLine): LineCurves {
  const places = placesAlong(line);
  const known = places.filter((_, i) => !Number.isNaN(line.efficiency[i]));
  const values = line.efficiency.filter((value) => !Number.isNaN(value));
  return {
    flow: monotoneCurve(places, line.flow),
    pressureRatio: monotoneCurve(places, line.pressureRatio),
    efficiency: known.length >= 2 ? monotoneCurve(known, values) : undefined,
  };
}

/** 0 at the first point, 1 at the last; never standing still, even where two rows are equal. */
function placesAlong({ flow, pressureRatio }: SpeedLine): Float64Array {
  const span = (values: Float64Array): number => Math.max(...values) - Math.min(...values) || 1;
  const [flowSpan, ratioSpan] = [span(flow), span(pressureRatio)];
  const places = new Float64Array(flow.length);
  for (let i = 1; i < flow.length; i++) {
    const step = Math.hypot((flow[i] - flow[i - 1]) / flowSpan, (pressureRatio[i] - pressureRatio[i - 1]) / ratioSpan);
    places[i] = places[i - 1] + Math.max(step, 1e-6);
  }
  const whole = places[places.length - 1];
  return places.map((place, i) => (i === places.length - 1 ? 1 : place / whole));
}

/** Every place where some line has a row, with steps of at most 1/64 between. */
function gridPlaces(places: readonly Float64Array[]): number[] {
  const knots = [...new Set(places.flatMap((line) => [...line]))].sort((a, b) => a - b);
  const apart = knots.filter((knot, i) => i === 0 || knot - knots[i - 1] > 1e-7);
  return refined(apart, (width) => Math.ceil(width * 64));
}

function gridSpeeds(speeds: readonly number[]): number[] {
  const steps = Math.max(4, Math.ceil(48 / (speeds.length - 1)));
  return refined(speeds, () => steps);
}

function refined(knots: readonly number[], steps: (width: number) => number): number[] {
  const found = [knots[0]];
  for (let i = 1; i < knots.length; i++) {
    const width = knots[i] - knots[i - 1];
    const count = steps(width);
    for (let k = 1; k < count; k++) found.push(knots[i - 1] + (width * k) / count);
    found.push(knots[i]);
  }
  return found;
}

function emptyGrid(rows: number, columns: number): MapGrid {
  const cells = () => new Float64Array(rows * columns);
  return { rows, columns, speed: cells(), flow: cells(), pressureRatio: cells(), efficiency: cells() };
}

function efficiencyAt(curve: MonotoneCurve | undefined, place: number): number {
  return curve ? curveValue(curve, place) : Number.NaN;
}

function linearBetween(x: Float64Array, y: Float64Array, at: number): number {
  let i = 0;
  while (i < x.length - 2 && x[i + 1] <= at) i++;
  const share = (at - x[i]) / (x[i + 1] - x[i]);
  if (share === 0) return y[i];
  return share === 1 ? y[i + 1] : y[i] + share * (y[i + 1] - y[i]);
}
