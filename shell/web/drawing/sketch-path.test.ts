import { expect, test } from 'vitest';
import { sketchPath } from './sketch-path.ts';

const box = { width: 100, height: 24 };

test.each([
  ['nothing', [], ''],
  ['all missing', [null, null], ''],
  ['one value', [5], 'M50.0 12.0h1.5'],
  ['a level line', [5, 5], 'M0.0 12.0L100.0 12.0'],
  ['a rise', [0, 10], 'M0.0 22.0L100.0 2.0'],
  ['a gap', [0, null, 10], 'M0.0 22.0h1.5M100.0 2.0h1.5'],
])('%s', (_what, values, path) => {
  expect(sketchPath(values, box)).toBe(path);
});
