import { at, clamp, curveAt } from '../interpolate.ts';

/**
 * Compressor map of the invented turbocharger: one row per corrected speed [krpm], cells from the surge line (x = 0)
 * towards choke (x = 0.95): corrected flow [kg/s], pressure ratio, efficiency. Reference 298 K, 100 kPa.
 */
export const MAP_SPEEDS = [60, 75, 90, 105, 120, 132] as const;
const PLACES = [0, 0.2, 0.4, 0.6, 0.8, 0.95] as const;
const FLOWS: readonly (readonly number[])[] = [
  [0.06, 0.09, 0.12, 0.15, 0.18, 0.203],
  [0.082, 0.117, 0.152, 0.188, 0.223, 0.249],
  [0.106, 0.146, 0.185, 0.224, 0.264, 0.293],
  [0.133, 0.176, 0.219, 0.261, 0.304, 0.336],
  [0.163, 0.208, 0.253, 0.298, 0.343, 0.376],
  [0.189, 0.235, 0.281, 0.327, 0.373, 0.408],
];
const RATIOS: readonly (readonly number[])[] = [
  [1.46, 1.46, 1.44, 1.4, 1.33, 1.25],
  [1.78, 1.77, 1.75, 1.68, 1.55, 1.4],
  [2.23, 2.22, 2.18, 2.06, 1.85, 1.62],
  [2.86, 2.85, 2.78, 2.59, 2.25, 1.89],
  [3.73, 3.72, 3.61, 3.31, 2.79, 2.25],
  [4.67, 4.65, 4.49, 4.07, 3.34, 2.61],
];
const EFFICIENCIES: readonly (readonly number[])[] = [
  [0.597, 0.704, 0.758, 0.758, 0.704, 0.629],
  [0.597, 0.704, 0.758, 0.758, 0.704, 0.629],
  [0.597, 0.704, 0.758, 0.758, 0.704, 0.629],
  [0.592, 0.699, 0.752, 0.752, 0.699, 0.623],
  [0.58, 0.684, 0.737, 0.737, 0.684, 0.611],
  [0.567, 0.669, 0.721, 0.721, 0.669, 0.598],
];

/** The map as a file that came with the turbocharger: a row per point, line by line from the surge side. */
export function compressorMapText(): string {
  const rows = MAP_SPEEDS.flatMap((speed, line) =>
    PLACES.map((_, k) =>
      [speed, at(at(FLOWS, line), k).toFixed(3), at(at(RATIOS, line), k), at(at(EFFICIENCIES, line), k)].join(','),
    ),
  );
  return [
    '# Compressor map, wheel 78 mm; invented, no real part is meant',
    '# corrected to 298 K and 100 kPa',
    'speed [krpm],flow [kg/s],pressure ratio [1],efficiency [1]',
    ...rows,
    '',
  ].join('\n');
}

/** Where the compressor runs. correctedSpeed: krpm at 298 K. place: 0 at the surge line, 1 at choke. */
export interface CompressorPoint {
  readonly correctedSpeed: number;
  readonly efficiency: number;
  readonly place: number;
}

/**
 * Point of the map that gives this pressure ratio at this corrected flow [kg/s]. Below 1.15 the wheel hardly works: the speed is
 * then taken from the ratio alone.
 */
export function compressorPoint(flow: number, pressureRatio: number): CompressorPoint {
  if (pressureRatio < 1.15) {
    return { correctedSpeed: 22 + 130 * Math.max(0, pressureRatio - 1) + 50 * flow, efficiency: 0.6, place: 0.5 };
  }
  let low = 0;
  let high = LINES.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (ratioOn(at(LINES, middle), flow) < pressureRatio) low = middle;
    else high = middle;
  }
  const below = at(LINES, low);
  const above = at(LINES, high);
  const from = ratioOn(below, flow);
  const share = clamp((pressureRatio - from) / (ratioOn(above, flow) - from), 0, 1);
  const mix = (x: number, y: number): number => x + share * (y - x);
  const place = mix(placeOn(below, flow), placeOn(above, flow));
  return {
    correctedSpeed: mix(below.speed, above.speed),
    place,
    efficiency: mix(efficiencyOn(below, flow), efficiencyOn(above, flow)),
  };
}

interface SpeedLine {
  readonly speed: number;
  readonly surge: number;
  readonly span: number;
  readonly ratios: readonly number[];
  readonly efficiencies: readonly number[];
}

/** Speed lines every 0.5 krpm. Columns of the map at one place are smooth in speed, so lines between the rows follow the columns. */
const LINES: readonly SpeedLine[] = Array.from({ length: 241 }, (_, index) => {
  const speed = 30 + index / 2;
  const column = (rows: readonly (readonly number[])[], k: number): number =>
    curveAt(
      MAP_SPEEDS,
      rows.map((row) => at(row, k)),
      speed,
    );
  const surge = Math.max(0.005, column(FLOWS, 0));
  return {
    speed,
    surge,
    span: Math.max(0.02, (column(FLOWS, 5) - surge) / 0.95),
    ratios: PLACES.map((_, k) => column(RATIOS, k)),
    efficiencies: PLACES.map((_, k) => column(EFFICIENCIES, k)),
  };
});

function placeOn(line: SpeedLine, flow: number): number {
  return (flow - line.surge) / line.span;
}

function ratioOn(line: SpeedLine, flow: number): number {
  return curveAt(PLACES, line.ratios, clamp(placeOn(line, flow), 0, 1.05));
}

function efficiencyOn(line: SpeedLine, flow: number): number {
  return curveAt(PLACES, line.efficiencies, clamp(placeOn(line, flow), 0, 1));
}
