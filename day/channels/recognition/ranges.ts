import { toSi, unitOf } from '../../../core/quantities/index.ts';
import type { Meaning } from '../meanings.ts';

/**
 * What a column of this meaning can hold, in SI. lowest, highest: beyond them the reading is wrong.
 * reach: where the high end of the column (95 % quantile) lies in an ordinary log of a car or truck that is driven.
 */
export interface Range {
  readonly lowest: number;
  readonly highest: number;
  readonly reach: readonly [number, number];
  /** The high end lies above this even in a log of an engine that only idles or stands; absent: it may be anywhere. */
  readonly leastHigh?: number;
}

/** unit, lowest, highest, reach from, reach to, least high end. */
type Row = readonly [string, number, number, number, number, number?];

const TEMPERATURE: Row = ['°C', -40, 200, 15, 150];
const FRACTION: Row = ['%', -5, 120, 15, 101];

/**
 * @source our default, wide enough for passenger cars, trucks and motorcycles: speeds to 450 km/h, 20 000 rpm, manifold to 6 bar,
 * turbochargers 30-350 krpm, exhaust to 1150 °C; barometer from 4500 m altitude (57.7 kPa, US Standard Atmosphere 1976) to 108 kPa
 */
const ROWS = {
  'roll-speed': ['km/h', -5, 450, 60, 330],
  'vehicle-speed': ['km/h', -5, 450, 40, 330],
  'wheel-speed': ['km/h', -5, 500, 40, 350],
  'roll-rotation': ['rpm', -50, 8000, 150, 5000],
  'brake-force': ['N', -8000, 30000, 500, 15000],
  'tractive-force': ['N', -15000, 30000, 500, 15000],
  'roll-torque': ['N·m', -8000, 15000, 50, 8000],
  'brake-setting': FRACTION,
  'stated-power': ['kW', -300, 2000, 20, 1000],
  'stated-torque': ['N·m', -1500, 12000, 60, 2500],
  'roll-acceleration': ['m/s²', -15, 15, 0.3, 8],
  distance: ['m', -1, 2e6, 100, 1e6],
  'ambient-temperature': ['°C', -45, 60, 0, 45],
  'barometric-pressure': ['kPa', 57, 108.5, 70, 105],
  'relative-humidity': ['%', 0, 101, 8, 100],
  'dew-point': ['°C', -50, 35, -20, 30],
  'wet-bulb': ['°C', -40, 40, -10, 33],
  'engine-speed': ['rpm', -30, 22000, 1200, 16000],
  gear: ['1', -2, 20, 1, 12],
  clutch: ['%', -5, 105, 0, 101],
  throttle: FRACTION,
  pedal: FRACTION,
  'manifold-pressure': ['kPa', 8, 700, 60, 450, 22],
  'manifold-gauge-pressure': ['kPa', -101, 600, 5, 350],
  'manifold-target': ['kPa', 8, 700, 60, 450, 22],
  'boost-pressure': ['kPa', 50, 700, 70, 450],
  'compressor-inlet-pressure': ['kPa', 40, 115, 60, 105],
  'exhaust-pressure': ['kPa', 50, 1000, 75, 700],
  'air-flow': ['g/s', -20, 3000, 15, 1200],
  'charge-temperature': ['°C', -40, 180, 5, 100],
  'compressor-outlet-temperature': ['°C', -40, 320, 40, 250],
  'turbo-speed': ['krpm', -1, 400, 30, 320],
  'wastegate-duty': ['%', -1, 105, 2, 101],
  'wastegate-position': ['%', -5, 110, 2, 101],
  lambda: ['1', 0.4, 40, 0.68, 8],
  'lambda-target': ['1', 0.5, 3, 0.68, 2],
  'injector-pulse': ['ms', 0, 60, 2, 40],
  'injector-duty': ['%', -1, 250, 10, 150],
  'fuel-pressure': ['kPa', -20, 300000, 200, 250000],
  'fuel-pressure-difference': ['kPa', -100, 300000, 200, 25000],
  'fuel-flow': ['g/s', -1, 300, 0.8, 150],
  'fuel-volume-flow': ['L/h', -1, 1500, 4, 600],
  'ignition-timing': ['°', -40, 70, 3, 55],
  dwell: ['ms', 0, 20, 1, 8],
  'coil-current': ['A', -1, 40, 3, 25],
  'battery-voltage': ['V', 0, 60, 11.5, 15.5],
  'knock-retard': ['°', -25, 25, 0, 15],
  'cam-angle': ['°', -140, 180, 0, 140],
  'cam-target': ['°', -140, 180, 0, 140],
  'coolant-temperature': ['°C', -40, 150, 40, 125],
  'oil-temperature': ['°C', -40, 190, 40, 160],
  'gearbox-temperature': TEMPERATURE,
  'axle-temperature': TEMPERATURE,
  'exhaust-temperature': ['°C', -40, 1250, 250, 1120],
  'fuel-temperature': ['°C', -40, 150, 5, 90],
  'tyre-temperature': ['°C', -30, 200, 15, 120],
  'coolant-pressure': ['kPa', -50, 500, 10, 300],
  'oil-pressure': ['kPa', -20, 1500, 150, 900],
  'crankcase-pressure': ['kPa', -60, 60, -20, 30],
} as const satisfies Partial<Record<Meaning, Row>>;

type Ranged = keyof typeof ROWS;

/** Meanings that have a range. */
export const rangedMeanings: readonly Meaning[] = Object.keys(ROWS).filter(isRanged);

function isRanged(meaning: string): meaning is Ranged {
  return Object.hasOwn(ROWS, meaning);
}

/** The range of a meaning, or undefined when anything is possible (counts, flags, unknown). */
export function rangeOf(meaning: Meaning): Range | undefined {
  if (!isRanged(meaning)) return undefined;
  const row: Row = ROWS[meaning];
  const unit = unitOf(row[0]);
  return {
    lowest: toSi(row[1], unit),
    highest: toSi(row[2], unit),
    reach: [toSi(row[3], unit), toSi(row[4], unit)],
    ...(row[5] === undefined ? {} : { leastHigh: toSi(row[5], unit) }),
  };
}
