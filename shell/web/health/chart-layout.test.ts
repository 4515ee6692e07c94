import { expect, test } from 'vitest';
import type { HealthLineView } from '../../contract/index.ts';
import { chartLayout } from './chart-layout.ts';

const line = (values: readonly (number | null)[], more: Partial<HealthLineView> = {}): HealthLineView => ({
  ...{ name: 'a', subject: 'loads', kind: 'fraction', worse: 'up', baseline: 1, verdict: 'in its band', remarks: [] },
  points: values.map((value, at) => ({ entry: `e${at}`, value, standardUncertainty: null })),
  ...{ average: [], low: [], high: [], ...more },
});
const field = { width: 128, height: 52 };

test('no point, one point and missing points are drawn without a band', () => {
  expect(chartLayout(line([]), [], field)).toMatchObject({ band: '', average: '', dots: [] });
  const { dots, zero } = chartLayout(line([0, null]), ['e0', 'e1'], field);
  expect(dots).toHaveLength(1);
  expect(dots[0]).toMatchObject({ x: 14, y: zero, counted: true });
});

test('places follow the entries of the day, up is more, the entry that left is marked', () => {
  const left = { entry: 'e1', direction: 'up', by: 'moving average', since: 'e1', worse: true } as const;
  const { dots, zero, band } = chartLayout(
    line([0, 1], { left, low: [-1, -1], high: [1, 1] }),
    ['e0', 'x', 'e1'],
    field,
  );
  expect(dots.map(({ x }) => x)).toEqual([14, 114]);
  expect(dots[1]?.y).toBeLessThan(zero);
  expect(dots.map((dot) => dot.left)).toEqual([false, true]);
  expect(band.startsWith('M14.0 11.0L114.0 11.0L114.0 41.0')).toBe(true);
});
