import { describe, expect, it } from 'vitest';
import { householderQr, leastSquaresSolution } from '../fits/householder.ts';
import { randomSource } from '../statistics/random.ts';
import { type SineInput, sineFit } from './sine-fit.ts';

const random = randomSource(4);
const made = (size: number, at: (k: number) => number) => Float64Array.from({ length: size }, (_, k) => at(k));
const swing = (values: Float64Array, perStep: number, more: Partial<SineInput> = {}) =>
  sineFit({ values, from: 0, to: values.length, perStep, fewest: 9, astray: Number.POSITIVE_INFINITY, ...more });

describe('a sine about a parabola', () => {
  it('is found exactly where there is nothing else', () => {
    const found = swing(
      made(200, (k) => 3 * Math.sin(0.3 * k + 1) + 5 - 0.02 * k + 1e-4 * k * k),
      0.3,
    );
    expect(found?.amplitude).toBeCloseTo(3, 9);
    expect(found?.spread).toBeLessThan(1e-9);
    expect(found?.halves[0]).toBeCloseTo(1, 9);
  });

  it('has the amplitude that orthogonal least squares gives, to 1e-9', () => {
    for (const size of [24, 100, 1500]) {
      const values = made(size, (k) => Math.cos(0.6 * k) + 0.3 * random.normal() + 2e3 + k);
      const [half, columns] = [(size - 1) / 2, 5];
      const matrix = Float64Array.from(
        Array.from({ length: size }, (_, k) => {
          const place = (k - half) / half;
          return [Math.cos(0.6 * (k - half)), Math.sin(0.6 * (k - half)), 1, place, place * place];
        }).flat(),
      );
      const x = leastSquaresSolution(householderQr({ rows: size, columns, values: matrix }), [...values]);
      expect(swing(values, 0.6)?.amplitude).toBeCloseTo(Math.hypot(x[0], x[1]), 9);
    }
  });

  it('tells of noise how far an amplitude may be off', () => {
    const amplitudes = Array.from({ length: 300 }, () =>
      swing(
        made(120, () => random.normal()),
        0.5,
      ),
    );
    const squares = amplitudes.reduce((sum, one) => sum + (one?.amplitude ?? 0) ** 2, 0) / 300;
    // amplitude² of noise is the sum of two squares of deviation √(2/n) each
    expect(squares).toBeGreaterThan(0.8 * 2 * (2 / 120));
    expect(squares).toBeLessThan(1.25 * 2 * (2 / 120));
    expect(amplitudes[0]?.deviation).toBeCloseTo(Math.sqrt(2 / 120), 1);
  });

  it('leaves out what lies astray, the second time', () => {
    const values = made(150, (k) => Math.sin(0.4 * k) + (k === 70 ? 80 : 0) + 0.01 * random.normal());
    expect(swing(values, 0.4, { astray: 3.5 })?.amplitude).toBeCloseTo(1, 2);
    expect(swing(values, 0.4)?.spread).toBeGreaterThan(3);
  });

  it('says in which half a swing is that does not last', () => {
    const found = swing(
      made(200, (k) => (k < 100 ? Math.sin(0.5 * k) : 0)),
      0.5,
    );
    expect(found?.halves[0]).toBeGreaterThan(1.5);
    expect(found?.halves[1]).toBeLessThan(0.5);
  });

  it('gives nothing with too few values, and takes a stretch of a longer series', () => {
    const gappy = made(40, (k) => (k % 5 === 0 ? Math.sin(k) : Number.NaN));
    expect(swing(gappy, 1, { fewest: 9 })).toBeUndefined();
    const long = made(300, (k) => (k >= 100 && k < 200 ? 2 * Math.sin(0.3 * k) : 50));
    expect(swing(long, 0.3, { from: 100, to: 200 })?.amplitude).toBeCloseTo(2, 9);
  });
});
