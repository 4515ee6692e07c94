import { expect, test } from 'vitest';
import { posteriorMode } from './posterior-mode.ts';

test('without observations the prior stays', () => {
  const { z, covariance, converged } = posteriorMode({ residuals: () => new Float64Array(1), size: 2 });
  expect([...z]).toEqual([0, 0]);
  expect([...covariance]).toEqual([1, 0, 0, 1]);
  expect(converged).toBe(true);
});

test('one normal observation of a normal prior: weighted mean, variances add inversely', () => {
  // prior 0 ± 1, observation 3 ± 0.5: mean 3·4/5, variance 1/5 (closed form)
  const { z, covariance } = posteriorMode({ residuals: (p) => Float64Array.of((p[0] - 3) / 0.5), size: 1 });
  expect(z[0]).toBeCloseTo(2.4, 9);
  expect(covariance[0]).toBeCloseTo(0.2, 9);
});

test('what only the sum of two shows leaves them tied', () => {
  const { z, covariance } = posteriorMode({ residuals: (p) => Float64Array.of((p[0] + p[1] - 2) / 0.1), size: 2 });
  expect(z[0]).toBeCloseTo(z[1], 9);
  expect(covariance[1] / Math.sqrt(covariance[0] * covariance[3])).toBeLessThan(-0.97);
});

test('a bent problem is solved with the slopes computed twice only', () => {
  const times = [0.5, 1, 1.5, 2, 3];
  const seen = times.map((t) => 1.3 * Math.exp(-0.7 * t));
  const residuals = (p: Float64Array): Float64Array =>
    Float64Array.from(times, (t, i) => ((1 + 0.5 * p[0]) * Math.exp(-(0.5 + 0.3 * p[1]) * t) - seen[i]) / 1e-4);
  const { z, converged } = posteriorMode({ residuals, size: 2, tolerance: 1e-6, maxSteps: 40 });
  expect(converged).toBe(true);
  expect(1 + 0.5 * z[0]).toBeCloseTo(1.3, 4);
  expect(0.5 + 0.3 * z[1]).toBeCloseTo(0.7, 4);
});
