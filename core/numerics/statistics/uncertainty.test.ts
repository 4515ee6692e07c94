import { describe, expect, it } from 'vitest';
import { combinedUncertainty, coverageFactor } from './uncertainty.ts';

/** Lengths in nm; the nominal length as a difference from 50 mm keeps the digits. */
const END_GAUGE = [
  { name: 'standard', value: 50.000623e6, standardUncertainty: 25, degreesOfFreedom: 18 },
  { name: 'difference', value: 215, standardUncertainty: 9.7, degreesOfFreedom: 25.6 },
  { name: 'expansion', value: 11.5e-6, standardUncertainty: 1.2e-6 },
  { name: 'temperature', value: -0.1, standardUncertainty: 0.41 },
  { name: 'expansion difference', value: 0, standardUncertainty: 0.58e-6, degreesOfFreedom: 50 },
  { name: 'temperature difference', value: 0, standardUncertainty: 0.029, degreesOfFreedom: 2 },
];

describe('combined uncertainty', () => {
  it('check 8-17 (JCGM 100:2008 H.1, seen in open test suites): end gauge', () => {
    const found = combinedUncertainty({
      inputs: END_GAUGE,
      model: ([ls, d, alpha, theta, da, dt]) => ls + d - ls * (da * theta + alpha * dt),
    });
    expect(found.value).toBeCloseTo(50.000838e6, 3);
    expect(Math.abs(found.standardUncertainty - 31.711)).toBeLessThan(0.005);
    expect(Math.abs(found.degreesOfFreedom - 16.66)).toBeLessThan(0.1);
    const k = coverageFactor(found.degreesOfFreedom, 0.99);
    expect(k).toBeCloseTo(2.92, 2);
    expect(Math.abs(k * found.standardUncertainty - 93)).toBeLessThan(1);
    const wanted = [25, 9.7, 0, 0, 2.9, 16.6];
    found.contributions.forEach(({ contribution }, i) => {
      expect(Math.abs(contribution - wanted[i])).toBeLessThan(0.08);
    });
  });

  const pair = [
    { name: 'a', value: 3, standardUncertainty: 0.3 },
    { name: 'b', value: 4, standardUncertainty: 0.4 },
  ];
  const difference = (coefficient: number) =>
    combinedUncertainty({
      inputs: pair,
      model: ([a, b]) => a - b,
      correlations: [{ first: 'a', second: 'b', coefficient }],
    }).standardUncertainty;

  it('of a difference shrinks when both sides err alike, and grows when they err against each other', () => {
    expect(difference(0)).toBeCloseTo(0.5, 9);
    expect(difference(1)).toBeCloseTo(0.1, 9);
    expect(difference(-1)).toBeCloseTo(0.7, 9);
  });

  it('uses given sensitivities as they are, and well-known inputs leave infinite degrees of freedom', () => {
    const found = combinedUncertainty({ inputs: pair, model: () => 7, sensitivities: [1, 0] });
    expect(found).toMatchObject({ value: 7, standardUncertainty: 0.3, degreesOfFreedom: Number.POSITIVE_INFINITY });
    expect(coverageFactor(Number.POSITIVE_INFINITY, 0.95)).toBeCloseTo(1.959964, 6);
  });

  it('refuses an unknown name and a coefficient beyond one', () => {
    const model = ([a, b]: readonly number[]) => a - b;
    const at = (first: string, coefficient: number) => () =>
      combinedUncertainty({ inputs: pair, model, correlations: [{ first, second: 'b', coefficient }] });
    expect(at('c', 0.5)).toThrow('unknown correlation: c, b');
    expect(at('a', 1.2)).toThrow('invalid correlation: 1.2');
    expect(coverageFactor(0.9, 0.95)).toBeNaN();
  });
});
