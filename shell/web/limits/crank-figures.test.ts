import { describe, expect, test } from 'vitest';
import type { CrankLimit, CrankView } from '../../contract/index.ts';
import { FIRST_PREFERENCES } from '../look/preferences.ts';
import { writingFor } from '../look/writing.ts';
import { forceFigure, inCycle, pressureFigure } from './crank-figures.ts';

const writing = writingFor(FIRST_PREFERENCES);
const imperial = writingFor({
  ...FIRST_PREFERENCES,
  units: { ...FIRST_PREFERENCES.units, pressure: 'imperial', 'torque and force': 'imperial' },
});
const RAD = Math.PI / 180;
const limit = (more: Partial<CrankLimit>): CrankLimit => ({
  ...{ name: 'head clamp', title: 'head clamp', kind: 'cylinder-pressure', sign: 1, angle: 15 * RAD },
  ...{ required: 10e6, requiredUncertainty: 0.5e6, available: 12e6, availableUncertainty: 0.3e6 },
  ...{ margin: 0.2, over: 0.01, unknown: [], ...more },
});
const view = (limits: CrankView['limits']): CrankView => ({
  ...{ speed: 500, speeds: [500], limits },
  angle: [-360, -270, -180, -90, 0, 90, 180, 270].map((degrees) => degrees * RAD),
  pressure: [0.2e6, 0.2e6, 0.2e6, 0.4e6, 8e6, 1e6, 0.2e6, 0.2e6],
  gas: [0, 0, 0, 1e3, 40e3, 5e3, 0, 0],
  inertia: [-8e3, 0, 5e3, 0, -8e3, 0, 5e3, 0],
  rod: [-8e3, 0, 5e3, 1e3, 32e3, 5e3, 5e3, 0],
});

test.each([
  [0, 0],
  [-180, -180],
  [-181, 539],
  [-360, 360],
  [360, 360],
  [539.9999, -180],
])('%s °CA stands at %s', (degrees, expected) => {
  expect(inCycle(degrees)).toBe(expected);
});

describe('pressure over the cycle', () => {
  test('runs once from bottom to bottom dead centre, its x rising, in bar', () => {
    const [line] = pressureFigure(view([limit({})]), writing).lines;
    expect(line?.x).toEqual([-180, -90, 0, 90, 180, 270, 360, 450]);
    expect(line?.y).toEqual([2, 4, 80, 10, 2, 2, 2, 2]);
  });

  test('marks what is asked with its spread, and draws the limit with its own', () => {
    const { marks, levels } = pressureFigure(view([limit({})]), writing);
    expect(marks).toEqual([expect.objectContaining({ x: 15, y: 100, label: 'highest 100 bar' })]);
    expect(marks?.[0]?.spreadY).toBeCloseTo(10, 9);
    expect(levels).toEqual([expect.objectContaining({ y: 120, label: 'head lifts: 120 bar' })]);
    expect(levels?.[0]?.spread).toBeCloseTo(6, 9);
  });

  test('nothing known of any limit: the highest sample is marked, no level is drawn', () => {
    const blind = limit({ required: null, available: null, angle: null });
    const { marks, levels } = pressureFigure(view([blind]), writing);
    expect(marks).toEqual([expect.objectContaining({ x: 0, y: 80 })]);
    expect(levels).toEqual([]);
  });
});

describe('forces over the cycle', () => {
  const pull = limit({
    name: 'rod tension',
    kind: 'force',
    sign: -1,
    angle: 2 * Math.PI,
    required: 9e3,
    available: 30e3,
  });

  test('a pull stands below zero, mark and limit, at overlap', () => {
    const { marks, levels } = forceFigure(view([pull]), writing);
    expect(marks?.[0]).toMatchObject({ x: 360, y: -9, below: true });
    expect(levels?.[0]).toMatchObject({ y: -30 });
  });

  test('other units are not divided', () => {
    const { marks, yLabel } = forceFigure(view([pull]), imperial);
    expect(yLabel).toBe('force, lbf');
    expect(marks?.[0]?.y).toBeCloseTo(-9000 / 4.4482216, 2);
  });
});
