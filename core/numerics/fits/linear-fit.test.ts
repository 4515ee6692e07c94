import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../statistics/random.ts';
import { designOf, linearFit, polynomialDesign } from './linear-fit.ts';
import { robustLinearFit } from './robust-fit.ts';

const strd = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/strd.json'), 'utf8'));

/** Decimal digits on which both agree. */
const digits = (found: number, wanted: number): number => -Math.log10(Math.abs(found / wanted - 1) || 1e-17);

describe('linear least squares', () => {
  it.each([
    { row: '8-01', name: 'Norris', least: 9 },
    { row: '8-02', name: 'Longley', least: 6 },
  ])('check $row (NIST StRD $name, seen in source): $least digits', ({ name, least }) => {
    const { data, parameters } = strd[name];
    const y = data.map((row: number[]) => row[0]);
    const columns = data[0].slice(1).map((_: number, j: number) => data.map((row: number[]) => row[j + 1]));
    const fit = linearFit({ design: designOf([y.map(() => 1), ...columns]), response: y });
    parameters.forEach((wanted: { value: number; sd: number }, j: number) => {
      expect(digits(fit.coefficients[j], wanted.value)).toBeGreaterThan(least);
      expect(digits(fit.standardErrors[j], wanted.sd)).toBeGreaterThan(least);
    });
    expect(fit.leverages.reduce((a, b) => a + b, 0)).toBeCloseTo(parameters.length, 9);
  });

  it('passes through its points when there are as many as coefficients, without a spread', () => {
    const fit = linearFit({ design: polynomialDesign([0, 1, 3], 2), response: [1, 2, 10] });
    [1, 0, 1].forEach((wanted, j) => {
      expect(fit.coefficients[j]).toBeCloseTo(wanted, 12);
    });
    expect(fit.degreesOfFreedom).toBe(0);
    expect(fit.residualDeviation).toBeNaN();
    expect(fit.covariance.every(Number.isNaN)).toBe(true);
  });

  it('says so when columns depend on each other, and refuses what is missing', () => {
    const fit = linearFit({
      design: designOf([
        [1, 1, 1, 1],
        [2, 2, 2, 2],
      ]),
      response: [1, 2, 3, 4],
    });
    expect(fit.rank).toBe(1);
    expect(fit.coefficients.every(Number.isNaN)).toBe(true);
    expect(() => linearFit({ design: polynomialDesign([1, 2, 3], 1), response: [1, Number.NaN, 3] })).toThrow(
      'index 1',
    );
    expect(() => linearFit({ design: polynomialDesign([1, Number.NaN, 3], 1), response: [1, 2, 3] })).toThrow('design');
    expect(() => linearFit({ design: polynomialDesign([1], 1), response: [1] })).toThrow('invalid matrix');
  });

  it('treats a weight of two like the same observation twice, and of zero like none', () => {
    const x = [0, 1, 2, 3, 4];
    const y = [1, 3, 2, 5, 4];
    const weighted = linearFit({ design: polynomialDesign(x, 1), response: y, weights: [1, 2, 0, 1, 1] });
    const repeated = linearFit({ design: polynomialDesign([0, 1, 1, 3, 4], 1), response: [1, 3, 3, 5, 4] });
    expect(weighted.coefficients[0]).toBeCloseTo(repeated.coefficients[0], 12);
    expect(weighted.coefficients[1]).toBeCloseTo(repeated.coefficients[1], 12);
    expect(weighted.degreesOfFreedom).toBe(2);
    expect(weighted.leverages[2]).toBe(0);
  });

  it('does not depend on the units of its columns', () => {
    const x = [1, 2, 3, 4, 5];
    const y = [2, 4, 5, 4, 6];
    const plain = linearFit({ design: designOf([x.map(() => 1), x]), response: y });
    const scaled = linearFit({ design: designOf([x.map(() => 1), x.map((v) => v * 1e-9)]), response: y });
    expect(scaled.rank).toBe(2);
    expect(scaled.coefficients[1] * 1e-9).toBeCloseTo(plain.coefficients[1], 12);
  });
});

describe('robust linear least squares', () => {
  const x = Array.from({ length: 40 }, (_, i) => i / 4);
  const { normal } = randomSource(11);
  const clean = x.map((v) => 5 + 2 * v + 0.1 * normal());
  const spoiled = clean.map((v, i) => (i % 8 === 3 ? v + 30 : v));
  const design = polynomialDesign(x, 1);

  it.each(['huber', 'bisquare'] as const)('%s is not pulled by one outlier in eight', (loss) => {
    const fit = robustLinearFit({ design, response: spoiled, loss });
    expect(fit.converged).toBe(true);
    expect(Math.abs(fit.coefficients[1] - 2)).toBeLessThan(0.05);
    expect(Math.abs(linearFit({ design, response: spoiled }).coefficients[0] - 5)).toBeGreaterThan(2);
    expect(fit.robustness[3]).toBeLessThan(loss === 'huber' ? 0.05 : 1e-12);
  });

  it.each(['huber', 'bisquare'] as const)('%s gives nearly the plain answer and spread on clean data', (loss) => {
    const plain = linearFit({ design, response: clean });
    const fit = robustLinearFit({ design, response: clean, loss });
    expect(Math.abs(fit.coefficients[1] - plain.coefficients[1])).toBeLessThan(plain.standardErrors[1]);
    expect(fit.standardErrors[1] / plain.standardErrors[1]).toBeGreaterThan(0.7);
    expect(fit.standardErrors[1] / plain.standardErrors[1]).toBeLessThan(1.5);
  });

  it('is the exact line when more than half of the points lie on one', () => {
    const response = x.map((v, i) => (i === 5 ? 100 : 1 + v));
    const fit = robustLinearFit({ design, response, loss: 'bisquare' });
    expect(fit.coefficients[1]).toBeCloseTo(1, 3);
    expect(fit.residuals[5]).toBeGreaterThan(90);
  });
});
