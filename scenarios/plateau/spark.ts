import { ENGINE } from './engine.ts';

/** Compression at the time of the spark. timing: °CA before top dead centre; map: kPa; volumetric: cylinder filling [1]. */
export interface SparkPoint {
  readonly map: number;
  readonly timing: number;
  readonly volumetric: number;
}

/** 50 °CA after bottom dead centre, counted from top dead centre. */
const INTAKE_CLOSING = 130;
const POLYTROPIC = 1.32;
const START_TEMPERATURE = 345;
const COIL_RATED = 25.9;
const COIL_VOLTAGE = 13.5;

/** Voltage the spark needs [kV] over a gap [mm]: by gas density at the spark, 30 % up for used plugs. */
export function sparkNeed(point: SparkPoint, gap: number): number {
  const ratio = volumeAt(INTAKE_CLOSING) / volumeAt(point.timing);
  const pressure = ((point.map / 100) * ratio ** POLYTROPIC * point.volumetric) / 0.955;
  const temperature = START_TEMPERATURE * ratio ** (POLYTROPIC - 1);
  const density = pressure / temperature;
  return 1.3 * (4.3 + 136 * density + 324 * density * gap);
}

/** Voltage the coil can give [kV] at 3 ms of dwell and this supply [V]. */
export function sparkAvailable(volts: number): number {
  return (COIL_RATED * volts) / COIL_VOLTAGE;
}

/** Highest cylinder pressure [bar]; knocking cycles add 15. */
export function peakPressure(map: number, timing: number, best: number): number {
  return 60 * (map / 100) * (1 - 0.01 * (best - timing)) + 4;
}

/** Cylinder height over the piston, clearance included, at an angle from top dead centre [°CA]; only ratios matter. */
function volumeAt(degrees: number): number {
  const crank = ENGINE.stroke / 2;
  const angle = (degrees * Math.PI) / 180;
  const side = crank * Math.sin(angle);
  const travel = crank + ENGINE.rod - crank * Math.cos(angle) - Math.sqrt(ENGINE.rod ** 2 - side ** 2);
  return ENGINE.stroke / (ENGINE.compressionRatio - 1) + travel;
}
