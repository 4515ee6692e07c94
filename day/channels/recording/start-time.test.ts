import { expect, test } from 'vitest';
import { startTime } from './start-time.ts';

const at = (...preamble: string[]): ReturnType<typeof startTime> =>
  startTime({ preamble }, undefined, { first: 0, origin: 0 });

test.each([
  ['Recorded 2041-09-12 09:50:12', 35_412, 1],
  ['Start: 12.09.2041 09:50:12,25 Uhr', 35_412.25, 0.01],
  ['begun at 1:05:00 PM', 47_100, 1],
  ['12:00:01 am', 1, 1],
])('%s', (line, value, resolution) => {
  expect(at('some roller', line)).toEqual({ value: value + resolution / 2, resolution });
});

test('two stamps leave it open, minutes alone and a longer number are no stamp', () => {
  expect(at('from 09:50:12', 'to 09:51:12')).toBeUndefined();
  expect(at('09:50')).toBeUndefined();
  expect(at('serial 12:34:56:78')).toBeUndefined();
  expect(at('25:10:00')).toBeUndefined();
  expect(at()).toBeUndefined();
});

test('a stamp counts for the first row, whatever its own time is', () => {
  expect(startTime({ preamble: ['09:00:10'] }, undefined, { first: 2.5, origin: 0 })?.value).toBe(32_408);
});
