import { expect, test } from 'vitest';
import { digitsOf, numberText } from './table.tsx';

test.each([
  { values: [38.422, 279.18, null], decimals: 1 },
  { values: [2150, 2250], decimals: 0 },
  { values: [0.801, 0.92], decimals: 4 },
  { values: [12345.6], decimals: 0 },
  { values: [null], decimals: 0 },
  { values: [], decimals: 0 },
])('numbers of a column share their decimals: $values', ({ values, decimals }) => {
  expect(digitsOf(values)).toBe(decimals);
});

test('a missing number is a dash, a negative one has a minus sign', () => {
  expect(numberText(null, 1)).toBe('–');
  expect(numberText(undefined, 1)).toBe('–');
  expect(numberText(-96.14, 1)).toBe('−96.1');
});
