import { expect, test } from 'vitest';
import { stripScale } from './strip-scale.ts';

const peaks = (...values: number[]) => values.map((value) => ({ peak: { value, standardUncertainty: 0 } }));

test.each([
  ['no entry', [], 0],
  ['entries without a peak', [{}], 0],
  ['powers near each other begin above zero', peaks(200_000, 285_000), 180_000],
  ['powers far from each other begin at zero', peaks(50_000, 200_000), 0],
  ['one power has a scale too', peaks(200_000), 195_000],
])('%s', (_, entries, ground) => {
  expect(stripScale(entries).ground).toBe(ground);
});

test('the ground is the first level, the bands lie inside', () => {
  const { ground, most, levels } = stripScale([{ peak: { value: 200_000, standardUncertainty: 5000 } }]);
  expect(levels[0]).toBe(ground);
  expect(ground).toBeLessThan(190_000);
  expect(most).toBe(210_000);
});
