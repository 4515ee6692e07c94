import fc from 'fast-check';
import { expect, test } from 'vitest';
import { axisSteps } from './axis-steps.ts';

test.each([
  { low: 197.2, high: 203.1, step: 10, places: [198, 200, 202], decimals: 0 },
  { low: 2.85, high: 3.15, step: 0.5, places: [2.9, 3, 3.1], decimals: 1 },
  { low: 12.9, high: 13.95, step: 0.5, places: [13, 13.5], decimals: 1 },
  { low: 0, high: 300, step: 50, places: [0, 50, 100, 150, 200, 250, 300], decimals: 0 },
  { low: -0.02, high: 0.03, step: 0.1, places: [-0.02, 0, 0.02], decimals: 2 },
])('from $low to $high by $step at most', ({ low, high, step, places, decimals }) => {
  expect(axisSteps(low, high, step)).toEqual({ places, decimals });
});

test('an axis without a length has no numbers', () => {
  expect(axisSteps(3, 3, 1).places).toEqual([]);
  expect(axisSteps(Number.NaN, 3, 1).places).toEqual([]);
});

test('two numbers at least, all within, whatever the range', () => {
  const ranges = fc.tuple(
    fc.double({ min: -1e5, max: 1e5, noNaN: true }),
    fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
    fc.double({ min: 0, max: 1e6, noNaN: true }),
  );
  fc.assert(
    fc.property(ranges, ([low, size, step]) => {
      // a step that fits the room is never so fine that hundreds of numbers stand there
      fc.pre(step === 0 || step > size / 100);
      const { places } = axisSteps(low, low + size, step);
      expect(places.length).toBeGreaterThanOrEqual(2);
      const slack = 1e-6 * (size + Math.abs(low));
      expect(Math.min(...places)).toBeGreaterThanOrEqual(low - slack);
      expect(Math.max(...places)).toBeLessThanOrEqual(low + size + slack);
    }),
    { seed: 20_410_912, numRuns: 300 },
  );
});
