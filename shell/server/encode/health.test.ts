import { expect, test } from 'vitest';
import { valueInWords } from './health.ts';

test('a ratio less one is told as what it is held against', () => {
  expect(valueInWords('power over expected, less 1')).toBe('power against expected');
  expect(valueInWords('oil pressure over that at equal speed and temperature, less 1')).toBe(
    'oil pressure against that at equal speed and temperature',
  );
});

test('every other number keeps its name', () => {
  for (const name of ['', 'force', 'oil pressure over 1000 rpm', 'less 1']) expect(valueInWords(name)).toBe(name);
});
