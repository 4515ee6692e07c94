import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { oneWayAnova } from './anova.ts';
import { pairedComparison, pooledComparison, pooledDeviation, sidesOf, welchComparison } from './compare.ts';
import { studentQuantile } from './distributions.ts';

const HANDBOOK = {
  first: { count: 79, mean: 30.48101, deviation: 6.10771 },
  second: { count: 249, mean: 20.14458, deviation: 6.4147 },
};

describe('comparison of two groups', () => {
  it('check 8-09 (NIST e-Handbook 1.3.5.3, seen in source): pooled t', () => {
    const found = pooledComparison(HANDBOOK);
    expect(Math.abs(found.t - -12.62059)).toBeLessThan(0.0002);
    expect(Math.abs(pooledDeviation(HANDBOOK) - 6.3426)).toBeLessThan(0.0002);
    expect(found.degreesOfFreedom).toBe(326);
    expect(studentQuantile(0.975, 326)).toBeCloseTo(1.9673, 4);
  });

  it('check 8-10 (NIST e-Handbook 1.3.5.3, seen in source; degrees of freedom computed): Welch', () => {
    const found = welchComparison(HANDBOOK);
    expect(Math.abs(found.t - -12.94627)).toBeLessThan(0.0002);
    expect(found.degreesOfFreedom).toBeCloseTo(136.87, 1);
  });

  it('check 8-11 (computed with scipy 1.17.1): Welch on two groups of pulls', () => {
    const a = [351.2, 352.8, 350.9, 353.4, 351.7];
    const b = [356.1, 354.7, 357.3, 355.0, 356.6, 355.9];
    const found = welchComparison(sidesOf(a, b, 'refuse'));
    expect(found.difference / 3.93333).toBeCloseTo(1, 4);
    expect(found.t / 6.34097).toBeCloseTo(1, 4);
    expect(found.degreesOfFreedom / 8.2892).toBeCloseTo(1, 4);
    expect(found.probability / 0.000191509).toBeCloseTo(1, 4);
    expect(found.low / 2.5115).toBeCloseTo(1, 4);
    expect(found.high / 5.3551).toBeCloseTo(1, 4);
  });

  it('check 8-12 (computed with scipy 1.17.1): pairs', () => {
    const first = [351.2, 349.8, 352.6, 350.1, 353.0];
    const second = [353.9, 352.7, 354.1, 353.6, 354.8];
    const found = pairedComparison({ first, second, missing: 'refuse' });
    expect(found.t / 6.76475).toBeCloseTo(1, 4);
    expect(found.degreesOfFreedom).toBe(4);
    expect(found.probability / 0.00249105).toBeCloseTo(1, 4);
  });

  it('drops pairs with a missing side, refuses or propagates as told', () => {
    const first = [1, 2, Number.NaN, 4, 5];
    const second = [2, Number.NaN, 4, 6, 6];
    expect(pairedComparison({ first, second, missing: 'skip' })).toMatchObject({
      difference: 4 / 3,
      degreesOfFreedom: 2,
    });
    expect(() => pairedComparison({ first, second, missing: 'refuse' })).toThrow('index 1');
    expect(pairedComparison({ first, second, missing: 'propagate' }).t).toBeNaN();
  });

  it('has no interval from a single sample on one side', () => {
    const found = welchComparison(sidesOf([1], [2, 3], 'refuse'));
    expect(found.difference).toBe(1.5);
    expect(found.low).toBeNaN();
    expect(pooledComparison(sidesOf([], [2, 3], 'skip')).difference).toBeNaN();
  });

  it('turns its sign when the sides are exchanged, and widens with confidence', () => {
    const a = [1, 2, 4];
    const b = [3, 5, 4, 6];
    const forward = welchComparison(sidesOf(a, b, 'refuse'));
    const backward = welchComparison(sidesOf(b, a, 'refuse'));
    expect(backward.low).toBeCloseTo(-forward.high, 12);
    const sure = welchComparison(sidesOf(a, b, 'refuse'), { confidence: 0.99 });
    expect(sure.low).toBeLessThan(forward.low);
  });
});

describe('one-way analysis of variance', () => {
  it.each([
    { name: 'AtmWtAg', f: 15.946733567793, squares: 1.04951729166667e-8, deviation: 1.5104831444641e-5, least: 8 },
    { name: 'SmLs01', f: 21, squares: 1.8, deviation: 0.1, least: 12 },
    { name: 'SmLs04', f: 21, squares: 1.8, deviation: 0.1, least: 8 },
  ])('NIST StRD $name (seen in source): $least digits', ({ name, f, squares, deviation, least }) => {
    const lines = readFileSync(join(import.meta.dirname, `../reference/${name}.dat`), 'utf8').split('\n');
    const start = lines.findLastIndex((line) => line.startsWith('Data:')) + 1;
    const groups = new Map<string, number[]>();
    for (const line of lines.slice(start)) {
      const [group, value] = line.trim().split(/\s+/);
      if (value) groups.set(group, [...(groups.get(group) ?? []), Number(value)]);
    }
    const found = oneWayAnova([...groups.values()], 'refuse');
    const tolerance = 10 ** -least;
    expect(Math.abs(found.f / f - 1)).toBeLessThan(tolerance);
    expect(Math.abs(found.withinSquares / squares - 1)).toBeLessThan(tolerance);
    expect(Math.abs(found.residualDeviation / deviation - 1)).toBeLessThan(tolerance);
  });

  it('of two groups is the square of the pooled t', () => {
    const a = [1, 2, 4];
    const b = [3, 5, 4, 6];
    const { f, probability } = oneWayAnova([a, b], 'refuse');
    const t = pooledComparison(sidesOf(a, b, 'refuse'));
    expect(f).toBeCloseTo(t.t ** 2, 10);
    expect(probability).toBeCloseTo(t.probability, 12);
  });

  it('has no answer for one group or one sample each, and follows the policy for missing ones', () => {
    expect(oneWayAnova([[1, 2]], 'refuse').f).toBeNaN();
    expect(oneWayAnova([[1], [2]], 'refuse').f).toBeNaN();
    expect(oneWayAnova([[1, 2, Number.NaN], [3, 4], [Number.NaN]], 'skip').betweenFreedom).toBe(1);
    expect(
      oneWayAnova(
        [
          [1, 2, Number.NaN],
          [3, 4],
        ],
        'propagate',
      ).f,
    ).toBeNaN();
    expect(() =>
      oneWayAnova(
        [
          [1, Number.NaN],
          [3, 4],
        ],
        'refuse',
      ),
    ).toThrow('index 1');
  });
});
