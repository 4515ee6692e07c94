import { describe, expect, it } from 'vitest';
import { randomSource } from '../statistics/random.ts';
import { crossCorrelation } from './cross-correlation.ts';

const noise = (n: number, seed: number): Float64Array => Float64Array.from({ length: n }, randomSource(seed).normal);

describe('cross-correlation', () => {
  it('refuses a missing sample and says where', () => {
    const holed = Float64Array.of(1, 2, Number.NaN, 4);
    expect(() => crossCorrelation({ first: holed, second: holed, maxLag: 1 })).toThrow('index 2');
  });

  it('is NaN for a constant side and for lags without enough overlap', () => {
    const flat = new Float64Array(20).fill(5);
    expect([...crossCorrelation({ first: flat, second: noise(20, 1), maxLag: 1 }).correlation]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
    const { correlation, overlap } = crossCorrelation({ first: noise(10, 1), second: noise(10, 2), maxLag: 15 });
    expect(correlation[0]).toBeNaN();
    expect(overlap[0]).toBe(0);
    expect(overlap[15]).toBe(10);
  });

  it.each([-37, 0, 5, 250])('finds a delay of %i samples exactly, with correlation 1', (delay) => {
    const base = noise(3000, 3).map((x, i) => x + 1e4 + i);
    const first = base.slice(1000, 2000);
    const second = base.slice(1000 - delay, 2000 - delay);
    const { correlation } = crossCorrelation({ first, second, maxLag: 300 });
    const best = correlation.indexOf(Math.max(...correlation));
    expect(best - 300).toBe(delay);
    expect(correlation[best]).toBeCloseTo(1, 9);
  });

  it('agrees with the plain sums on the overlap (twin)', () => {
    const first = noise(40, 4);
    const second = noise(55, 5);
    const { correlation } = crossCorrelation({ first, second, maxLag: 30, minOverlap: 4 });
    for (let k = -30; k <= 30; k++) {
      const pairs: [number, number][] = [];
      for (let i = 0; i < 40; i++) if (i + k >= 0 && i + k < 55) pairs.push([first[i], second[i + k]]);
      const mean = (j: 0 | 1) => pairs.reduce((s, p) => s + p[j], 0) / pairs.length;
      const [ma, mb] = [mean(0), mean(1)];
      const cov = pairs.reduce((s, [a, b]) => s + (a - ma) * (b - mb), 0);
      const va = pairs.reduce((s, [a]) => s + (a - ma) ** 2, 0);
      const vb = pairs.reduce((s, [, b]) => s + (b - mb) ** 2, 0);
      expect(correlation[k + 30]).toBeCloseTo(cov / Math.sqrt(va * vb), 10);
    }
  });

  it('does not change with scale and level, and mirrors when the sides are exchanged', () => {
    const a = noise(100, 6);
    const b = noise(100, 7);
    const plain = crossCorrelation({ first: a, second: b, maxLag: 20 }).correlation;
    const moved = crossCorrelation({ first: a.map((x) => 3 * x - 8), second: b, maxLag: 20 }).correlation;
    const turned = crossCorrelation({ first: b, second: a, maxLag: 20 }).correlation;
    for (let k = 0; k <= 40; k++) {
      expect(moved[k]).toBeCloseTo(plain[k], 11);
      expect(turned[40 - k]).toBeCloseTo(plain[k], 11);
    }
  });
});
