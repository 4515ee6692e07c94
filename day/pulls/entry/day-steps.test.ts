import { describe, expect, it } from 'vitest';
import { steppedRate, steppedRatio, steppedSpread, steppedTyre } from './day-steps.ts';

describe('numbers of a whole day in steps', () => {
  it.each([
    [169e-6, 160e-6],
    [179.9e-6, 160e-6],
    [180.1e-6, 200e-6],
    [-19.9e-6, 0],
  ])('a rate of %f is told as %f', (value, told) => {
    expect(steppedRate({ value, standardUncertainty: 9e-6 }).value).toBeCloseTo(told, 12);
  });

  it.each([
    [9e-6, 25e-6],
    [22e-6, 25e-6],
    [23e-6, 50e-6],
    [120e-6, 200e-6],
  ])('its uncertainty of %f holds the step and is told as %f', (standardUncertainty, told) => {
    expect(steppedRate({ value: 0, standardUncertainty }).standardUncertainty).toBeCloseTo(told, 12);
  });

  it('moves a number of tyres by one hundredth of it at most, and keeps its sign', () => {
    for (const value of [5.5e-6, -0.0121, 1, 3.2e4]) {
      expect(Math.abs(steppedTyre(value) / value - 1)).toBeLessThan(0.0101);
      expect(Math.abs(steppedRatio(value) / value - 1)).toBeLessThan(0.000151);
    }
  });

  it('tells what it told: a step is on a step', () => {
    for (const value of [5.5e-6, 0.0121, 13.318]) {
      expect(steppedTyre(steppedTyre(value))).toBeCloseTo(steppedTyre(value), 15);
      expect(steppedRatio(steppedRatio(value))).toBeCloseTo(steppedRatio(value), 12);
    }
  });

  it('never makes an uncertainty smaller, and leaves what is no number as it is', () => {
    expect(steppedSpread(2.2e-7)).toBeGreaterThanOrEqual(2.2e-7);
    expect(steppedSpread(2.2e-7)).toBeLessThan(1.2501 * 2.2e-7);
    expect(steppedSpread(0)).toBe(0);
    expect(steppedTyre(0)).toBe(0);
    expect(steppedTyre(Number.NaN)).toBeNaN();
    expect(steppedSpread(Number.NaN)).toBeNaN();
  });
});
