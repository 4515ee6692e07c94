import { expect, test, vi } from 'vitest';
import { makeCursor, nearest, translated } from './cursor.ts';

test.each([
  [[], 1, undefined],
  [[null, null], 1, undefined],
  [[1, null, 4], 2.4, 0],
  [[1, null, 4], 2.6, 2],
  [[5], -100, 0],
])('nearest in %o to %d is at %s', (values, value, at) => {
  expect(nearest(values, value)).toBe(at);
});

test('a place on one axis is found on the other', () => {
  expect(translated(2.2, [1, 2, 3], [10, 20, 30])).toBe(20);
  expect(translated(undefined, [1], [10])).toBeUndefined();
  expect(translated(1, [1], [null])).toBeUndefined();
});

test('listeners hear a move once, and not after they left', () => {
  const cursor = makeCursor();
  const heard = vi.fn();
  const leave = cursor.listen(heard);
  cursor.move(1);
  cursor.move(1);
  leave();
  cursor.move(2);
  expect(heard).toHaveBeenCalledTimes(1);
  expect(cursor.time()).toBe(2);
});
