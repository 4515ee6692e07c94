import { expect, test } from 'vitest';
import { steppedX } from './stepped.ts';

const xs = [1, null, 2, undefined, 3];

test.each([
  [[], undefined, 'ArrowRight', undefined],
  [xs, undefined, 'ArrowRight', 2],
  [xs, 2, 'ArrowLeft', 1],
  [xs, 1, 'ArrowLeft', 1],
  [xs, 3, 'ArrowRight', 3],
  [xs, 2, 'Home', 1],
  [xs, 2, 'End', 3],
  [xs, 2, 'Enter', undefined],
])('in %o from %s by %s to %s', (...[values, x, key, expected]) => {
  expect(steppedX(values, x, key)).toBe(expected);
});
