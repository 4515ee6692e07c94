import { describe, expect, test } from 'vitest';
import type { MapPointsView } from '../../contract/index.ts';
import { FIRST_PREFERENCES } from '../look/preferences.ts';
import { writingFor } from '../look/writing.ts';
import { compressorFigure, pressureGroups } from './picture-figures.ts';

type Pull = MapPointsView['pulls'][number];

const pull = (entry: string, pressure: number | null, more: Partial<Pull> = {}): Pull => ({
  ...{ entry, title: '', measured: false, speed: [400], manifoldPressure: [pressure] },
  ...{ flow: [0.2], flowUncertainty: [0.004], pressureRatio: [2], pressureRatioUncertainty: [0.03], ...more },
});
const groupsOf = (pressures: readonly (number | null)[]) =>
  pressureGroups(pressures.map((pressure, at) => pull(`p${at}`, pressure))).map(({ low, high, count }) => [
    low,
    high,
    count,
  ]);

describe('pulls by pressure', () => {
  test.each<[readonly (number | null)[], readonly (readonly number[])[]]>([
    [[], []],
    [[null], []],
    [[200e3], [[200e3, 200e3, 1]]],
    [[200e3, 207e3], [[200e3, 207e3, 2]]],
    [
      [209e3, 200e3],
      [
        [200e3, 200e3, 1],
        [209e3, 209e3, 1],
      ],
    ],
    [
      [100e3, 120e3, 150e3, 180e3, 250e3, 258e3],
      [
        [100e3, 100e3, 1],
        [120e3, 120e3, 1],
        [150e3, 180e3, 2],
        [250e3, 258e3, 2],
      ],
    ],
  ])('%o are %o', (pressures, expected) => {
    expect(groupsOf(pressures)).toEqual(expected);
  });

  test('groups differ in shape, not in colour alone', () => {
    const signs = pressureGroups([100e3, 130e3, 170e3, 220e3].map((p, at) => pull(`${at}`, p))).map(({ sign }) => sign);
    expect(new Set(signs).size).toBe(4);
  });
});

test('a point without a flow is not drawn; one with it shows two standard uncertainties', () => {
  const nothing = { flow: [], pressureRatio: [] };
  const compressor = {
    lines: [],
    surge: nothing,
    choke: nothing,
    operating: { ...nothing, speed: [], shaftSpeed: [] },
  };
  const pulls = [pull('a', 200e3, { flow: [0.2, null], pressureRatio: [2, 2] })];
  const { marks } = compressorFigure({ compressor, pulls }, writingFor(FIRST_PREFERENCES));
  expect(marks).toHaveLength(1);
  expect(marks?.[0]).toMatchObject({ x: 200, y: 2, spreadY: 0.06 });
  expect(marks?.[0]?.spreadX).toBeCloseTo(8, 9);
});

test('every speed line of the map bears its speed', () => {
  const nothing = { flow: [], pressureRatio: [] };
  const line = (rpm: number) => ({ speed: rpm * (Math.PI / 30), flow: [0.1, 0.2], pressureRatio: [2, 1.6] });
  const compressor = {
    lines: [line(90e3), line(120e3)],
    surge: nothing,
    choke: nothing,
    operating: { ...nothing, speed: [], shaftSpeed: [] },
  };
  const { lines } = compressorFigure({ compressor, pulls: [] }, writingFor(FIRST_PREFERENCES));
  expect(lines.filter(({ faint }) => faint).map(({ tag }) => tag)).toEqual(['90 krpm', '120 krpm']);
});
