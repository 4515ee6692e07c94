import { expect, it } from 'vitest';
import { secondsOfDay } from './seconds-of-day.ts';

it.each([
  [undefined, undefined],
  ['', undefined],
  ['ten past nine', undefined],
  ['9.10', undefined],
  ['09:10:5', undefined],
  ['00:00', 0],
  ['9:10', 33_000],
  ['09:10:30', 33_030],
  ['23:59:59.5', 86_399.5],
])('a clock time %s is %s seconds after midnight', (text, seconds) => {
  expect(secondsOfDay(text)).toBe(seconds);
});
