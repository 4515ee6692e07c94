import { describe, expect, it } from 'vitest';
import { tyrePower } from '../rig/rig.ts';
import { engineState } from './engine.ts';
import { peakPressure, sparkAvailable, sparkNeed } from './spark.ts';
import { STATED_RIG } from './vehicle.ts';

const RAD = Math.PI / 30;
const clean = (rpm: number, map: number, preCleaner = false) =>
  engineState({
    rpm,
    map,
    ambientTemperature: 27,
    ambientPressure: 85.3,
    soak: 3,
    preCleaner,
    phaseA: 0,
    phaseB: 0,
    timing: 0,
  });

/** The invented engine as laid down: rows of manifold pressure [kPa], columns of speed [rpm]; torque [N·m], turbo [krpm], charge [°C], p3 [kPa], duty [%]. */
const SPEEDS = [3500, 4500, 5500, 6500, 7000];
const TABLE: readonly (readonly [number, readonly (readonly number[])[]])[] = [
  [
    150,
    [
      [320, 76.7, 48, 134, 34],
      [328, 79.4, 49, 146, 45],
      [327, 84.1, 50, 161, 56],
      [309, 88.8, 52, 174, 63],
      [296, 90.6, 53, 179, 66],
    ],
  ],
  [
    170,
    [
      [362, 85.3, 52, 148, 38],
      [370, 88.3, 53, 164, 50],
      [368, 93.6, 55, 184, 62],
      [348, 99.0, 57, 202, 71],
      [333, 101.1, 58, 208, 73],
    ],
  ],
  [
    185,
    [
      [393, 90.9, 55, 160, 41],
      [402, 94.2, 56, 179, 54],
      [398, 100.0, 58, 203, 67],
      [376, 106.0, 61, 224, 76],
      [359, 108.3, 63, 232, 79],
    ],
  ],
  [
    200,
    [
      [423, 95.9, 57, 172, 44],
      [432, 99.5, 59, 194, 58],
      [428, 106.0, 62, 223, 71],
      [402, 112.7, 66, 247, 81],
      [384, 115.2, 67, 257, 84],
    ],
  ],
  [
    208,
    [
      [439, 98.3, 59, 179, 45],
      [448, 102.2, 60, 203, 60],
      [443, 109.1, 64, 233, 74],
      [416, 116.1, 68, 260, 84],
      [397, 118.8, 70, 270, 87],
    ],
  ],
  [
    215,
    [
      [453, 100.4, 60, 184, 47],
      [462, 104.5, 62, 210, 62],
      [456, 111.7, 66, 243, 76],
      [428, 119.0, 70, 272, 86],
      [408, 121.9, 72, 282, 89],
    ],
  ],
  [
    230,
    [
      [483, 104.6, 62, 197, 50],
      [491, 109.2, 65, 226, 66],
      [483, 117.2, 70, 264, 80],
      [452, 125.2, 75, 297, 91],
      [431, 128.4, 77, 309, 94],
    ],
  ],
];
const POINTS = TABLE.flatMap(([map, row]) => row.map((values, k) => ({ map, rpm: SPEEDS[k] ?? 0, values })));

describe('the invented engine', () => {
  it.each(POINTS)(
    'makes its laid-down torque, turbo speed, charge temperature, p3 and duty at $rpm rpm, $map kPa',
    ({ rpm, map, values }) => {
      const state = clean(rpm, map);
      const [torque = 0, turbo = 0, charge = 0, p3 = 0, duty = 0] = values;
      expect(Math.abs(state.torque / torque - 1)).toBeLessThan(0.005);
      expect(Math.abs(state.turboSpeed / turbo - 1)).toBeLessThan(0.01);
      expect(Math.abs(state.chargeTemperature - charge)).toBeLessThan(1.5);
      expect(Math.abs(state.p3 / p3 - 1)).toBeLessThan(0.03);
      expect(Math.abs(100 * state.duty - duty)).toBeLessThan(1.5);
    },
  );

  it.each([
    [3500, 200, 134.9],
    [5000, 200, 195.2],
    [6500, 150, 173.3],
    [6500, 170, 198.2],
    [6500, 185, 216.1],
    [6500, 200, 233.2],
    [6500, 208, 242.1],
    [6500, 215, 249.7],
  ])('puts its laid-down power on the tyre at %i rpm, %i kPa and 400 rpm/s', (rpm, map, kilowatts) => {
    const { torque } = clean(rpm, map);
    const power = tyrePower(STATED_RIG, { torque, speed: rpm * RAD, acceleration: 400 * RAD });
    expect(Math.abs(power / 1e3 / kilowatts - 1)).toBeLessThan(0.005);
  });

  it('passes 34 % of the exhaust by the turbine at 6500 rpm, 200 kPa', () => {
    expect(clean(6500, 200).bypass).toBeCloseTo(0.34, 1);
  });

  it('pays for the pre-cleaner with turbo speed, hardly with power', () => {
    const turbo = clean(6500, 200, true).turboSpeed - clean(6500, 200).turboSpeed;
    const power = clean(6500, 200, true).torque / clean(6500, 200).torque - 1;
    expect(turbo).toBeGreaterThan(2);
    expect(turbo).toBeLessThan(3.4);
    expect(power).toBeLessThan(-0.004);
    expect(power).toBeGreaterThan(-0.009);
  });

  it('needs more spark voltage than the sagging coil gives at 200 kPa and 0.70 mm, and less at 0.55 mm', () => {
    const state = clean(6200, 200);
    const point = { map: 200, timing: state.timing, volumetric: state.volumetric };
    expect(sparkNeed(point, 0.7)).toBeGreaterThan(sparkAvailable(13.1));
    expect(sparkNeed(point, 0.55)).toBeLessThan(sparkAvailable(13.1));
  });

  it('lifts the head of bank B at 215 kPa in the middle of the range only', () => {
    const peak = (rpm: number): number => {
      const state = clean(rpm, 215);
      return peakPressure(215, state.timing, state.bestTiming);
    };
    expect(peak(3500)).toBeGreaterThan(123);
    expect(peak(6500)).toBeLessThan(123);
  });
});
