import { describe, expect, it } from 'vitest';
import { lowess } from '../signals/lowess.ts';
import { cholesky } from './cholesky.ts';
import { gaussianProcess, gaussianProcessPrediction } from './gaussian-process.ts';
import { responseSurface, surfaceValue } from './response-surface.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

describe('the response surface', () => {
  // the axial distance as the design was rounded
  const r = 14142e-4;
  const points = [-1, -1, 1, -1, -1, 1, 1, 1, -r, 0, r, 0, 0, -r, 0, r, 0, 0, 0, 0, 0, 0];
  const response = [76.5, 78, 77, 79.5, 75.6, 78.4, 77, 78.5, 79.9, 80.3, 80.0];

  it('check 8-16 (quadratic least squares, computed with numpy 2.4.6): central composite design', () => {
    const found = responseSurface({ points, factors: 2, response });
    const wanted = [80.06666, 0.99498, 0.51517, -1.4396, -1.06459, 0.25];
    wanted.forEach((value, i) => {
      expect(Math.abs(found.fit.coefficients[i] - value)).toBeLessThan(1e-5);
    });
    expect(Math.abs(found.stationary[0] - 0.37036)).toBeLessThan(1e-5);
    expect(Math.abs(found.stationary[1] - 0.28544)).toBeLessThan(1e-5);
    expect(Math.abs(found.value - 80.32444)).toBeLessThan(1e-5);
    expect(Math.abs(found.eigenvalues[0] + 1.47744)).toBeLessThan(1e-5);
    expect(Math.abs(found.eigenvalues[1] + 1.02674)).toBeLessThan(1e-5);
    expect(found.nature).toBe('maximum');
    expect(surfaceValue(found, found.stationary)).toBeCloseTo(found.value, 9);
  });

  it('tells a saddle and a minimum, and calls a ridge flat', () => {
    const at = (f: (x: number, y: number) => number) =>
      responseSurface({ points, factors: 2, response: response.map((_, i) => f(points[2 * i], points[2 * i + 1])) });
    expect(at((x, y) => x * x - y * y).nature).toBe('saddle');
    expect(at((x, y) => x * x + y * y + x * y).nature).toBe('minimum');
    expect(at((x, y) => 5 - (x + y) ** 2).nature).toBe('flat');
  });

  it('throws for too few runs', () => {
    expect(() => responseSurface({ points: [0, 0, 1, 1], factors: 2, response: [1, 2] })).toThrow('invalid matrix');
  });
});

it('eigenvalues rebuild their matrix', () => {
  const m = [4, 1, -2, 1, 3, 0.5, -2, 0.5, -1];
  const { values, vectors } = symmetricEigen(m, 3);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const sum = [0, 1, 2].reduce((s, k) => s + vectors[i * 3 + k] * values[k] * vectors[j * 3 + k], 0);
      expect(sum).toBeCloseTo(m[i * 3 + j], 12);
    }
  }
});

describe('the Gaussian process', () => {
  const input = {
    points: [0, 1, 2.5, 4, 5.5],
    lengths: [1.2],
    response: [0.1, 0.9, 0.55, -0.7, -0.65],
    signal: 1,
    noise: 0.1,
  };

  it('check 8-22 (Rasmussen & Williams algorithm 2.1, computed with numpy 2.4.6)', () => {
    const process = gaussianProcess(input);
    if (!process) throw new Error('no process');
    const near = gaussianProcessPrediction(process, [1.7]);
    const far = gaussianProcessPrediction(process, [6]);
    expect(Math.abs(near.mean - 1.020172)).toBeLessThan(1e-6);
    expect(Math.abs(far.mean + 0.46982)).toBeLessThan(1e-6);
    expect(Math.abs(near.variance - 0.037283)).toBeLessThan(1e-6);
    expect(Math.abs(far.variance - 0.126186)).toBeLessThan(1e-6);
    expect(Math.abs(process.logLikelihood + 4.885905)).toBeLessThan(1e-6);
  });

  it('knows nothing far away and passes through points without noise', () => {
    const process = gaussianProcess({ ...input, noise: 1e-6 });
    if (!process) throw new Error('no process');
    expect(gaussianProcessPrediction(process, [2.5]).mean).toBeCloseTo(0.55, 5);
    expect(gaussianProcessPrediction(process, [100])).toEqual({ mean: 0, variance: 1 });
  });

  it('does not exist for repeated points without noise', () => {
    expect(gaussianProcess({ ...input, points: [0, 0, 2, 3, 4], noise: 0 })).toBeUndefined();
    expect(cholesky([1, 2, 2, 1], 2)).toBeUndefined();
  });
});

describe('LOWESS', () => {
  const x = Float64Array.from({ length: 10 }, (_, i) => i);
  const y = Float64Array.of(2.1, 2.9, 4.2, 4.8, 6.5, 6.9, 8.4, 8.8, 10.3, 10.7);

  it('check 8-23 (Cleveland, computed with statsmodels 0.15.0): fraction 0.6, no robust steps', () => {
    const wanted = [2.03689, 3.03551, 4.04054, 5.10203, 6.12668, 7.16201, 8.11798, 9.08202, 9.96793, 10.85697];
    const found = lowess({ x, y, fraction: 0.6 });
    wanted.forEach((value, i) => {
      expect(Math.abs(found[i] - value)).toBeLessThan(1e-4);
    });
  });

  it('ignores one outlier when told to be robust', () => {
    const wild = y.map((value, i) => (i === 5 ? 40 : value));
    const plain = lowess({ x, y: wild, fraction: 0.6 });
    const robust = lowess({ x, y: wild, fraction: 0.6, robustSteps: 4 });
    expect(plain[5]).toBeGreaterThan(10);
    expect(Math.abs(robust[5] - 7.2)).toBeLessThan(0.6);
  });

  it('refuses unsorted or missing input and answers equal x with their mean', () => {
    expect(() => lowess({ x: x.toReversed(), y, fraction: 0.5 })).toThrow('not increasing');
    expect(() => lowess({ x, y: y.map(() => Number.NaN), fraction: 0.5 })).toThrow('missing');
    expect(() => lowess({ x, y, fraction: 0 })).toThrow('invalid fraction: 0');
    expect([...lowess({ x: new Float64Array(3), y: Float64Array.of(1, 2, 3), fraction: 1 })]).toEqual([2, 2, 2]);
  });
});
