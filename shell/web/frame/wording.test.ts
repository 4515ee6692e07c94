import { expect, test } from 'vitest';
import { bytesInWords, counted, placeInWords } from './wording.ts';

test.each([
  [undefined, ''],
  [{}, ''],
  [{ file: 'a.csv', line: 3 }, 'a.csv, line 3'],
  [{ channel: 'map', from: 1, to: 2.345 }, 'map, 1.00 s to 2.35 s'],
  [{ from: 0 }, 'from 0.00 s'],
  [{ channel: 'time', from: 3, to: 3 }, 'time, at 3.00 s'],
])('place %o', (place, words) => {
  expect(placeInWords(place)).toBe(words);
});

test.each([
  [0, '0 B'],
  [999, '999 B'],
  [1000, '1.0 kB'],
  [1_500_000, '1.5 MB'],
])('%i bytes', (bytes, words) => {
  expect(bytesInWords(bytes)).toBe(words);
});

test('one and many', () => {
  expect([counted(1, 'entry', 'entries'), counted(0, 'entry', 'entries')]).toEqual(['1 entry', '0 entries']);
});
