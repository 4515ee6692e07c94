import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { ratioClusters } from './clusters.ts';
import { inverse, symmetric } from './normal-equations.ts';

describe('ratioClusters', () => {
  it('is empty for nothing', () => {
    expect(ratioClusters(new Float64Array(0))).toEqual([]);
    expect(ratioClusters(Float64Array.from([Number.NaN, Number.NaN]))).toEqual([]);
  });

  it('finds gears under scatter, most used first', () => {
    const random = randomSource(3);
    const gears = [Math.log(24), Math.log(15.4), Math.log(11.4)];
    const values = Float64Array.from({ length: 900 }, (_, i) =>
      i % 9 === 0 ? 2 + 2 * random.uniform() : gears[i % 3] + 0.01 * random.normal(),
    );
    const found = ratioClusters(values)
      .slice(0, 3)
      .map(({ middle }) => middle)
      .sort((a, b) => b - a);
    for (const [k, gear] of gears.entries()) expect(Math.abs(found[k] - gear)).toBeLessThan(0.005);
  });
});

describe('inverse', () => {
  it('times the matrix is the unit matrix, also with scales far apart', () => {
    const m = { n: 2, data: Float64Array.from([4e12, 2e3, 2e3, 3e-6]) };
    const i = inverse(m);
    if (!i) throw new Error('singular');
    const product = (a: number, b: number) => m.data[2 * a] * i.data[b] + m.data[2 * a + 1] * i.data[2 + b];
    expect(product(0, 0)).toBeCloseTo(1, 9);
    expect(product(1, 1)).toBeCloseTo(1, 9);
  });

  it('of a singular matrix is undefined', () => {
    expect(inverse({ n: 2, data: Float64Array.from([1, 1, 1, 1]) })).toBeUndefined();
    expect(inverse(symmetric(2))).toBeUndefined();
  });
});
