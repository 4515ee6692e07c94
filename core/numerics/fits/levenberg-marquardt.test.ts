import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { levenbergMarquardt } from './levenberg-marquardt.ts';

const strd = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/strd.json'), 'utf8'));
const { exp } = Math;

type Model = (b: Float64Array, x: number) => number;
const MODELS: Record<string, Model> = {
  Misra1a: (b, x) => b[0] * (1 - exp(-b[1] * x)),
  Chwirut2: (b, x) => exp(-b[0] * x) / (b[1] + b[2] * x),
  MGH09: (b, x) => (b[0] * (x * x + x * b[1])) / (x * x + x * b[2] + b[3]),
  Thurber: (b, x) => (b[0] + b[1] * x + b[2] * x ** 2 + b[3] * x ** 3) / (1 + b[4] * x + b[5] * x ** 2 + b[6] * x ** 3),
  Eckerle4: (b, x) => (b[0] / b[1]) * exp(-0.5 * ((x - b[2]) / b[1]) ** 2),
  Gauss1: (b, x) =>
    b[0] * exp(-b[1] * x) + b[2] * exp(-((x - b[3]) ** 2) / b[4] ** 2) + b[5] * exp(-((x - b[6]) ** 2) / b[7] ** 2),
};
const ROWS = Object.keys(MODELS).flatMap((name, i) =>
  ['start1', 'start2'].map((start) => ({ row: ['8-03', '8-04', '8-05', '8-06', '8-07', '8-08'][i], name, start })),
);

const digits = (found: number, wanted: number): number => -Math.log10(Math.abs(found / wanted - 1) || 1e-17);

describe('Levenberg–Marquardt', () => {
  it.each(ROWS)('check $row (NIST StRD $name, seen in source) from $start: 6 digits', ({ name, start }) => {
    const { data, parameters, rss } = strd[name];
    const model = MODELS[name];
    const residuals = (b: Float64Array) => Float64Array.from(data, ([y, x]: number[]) => y - model(b, x));
    const fit = levenbergMarquardt({ residuals, start: parameters.map((p: Record<string, number>) => p[start]) });
    expect(fit.converged).toBe(true);
    parameters.forEach((wanted: { value: number; sd: number }, j: number) => {
      expect(digits(fit.parameters[j], wanted.value)).toBeGreaterThan(6);
      expect(digits(fit.standardErrors[j], wanted.sd)).toBeGreaterThan(4);
    });
    expect(digits(fit.sumOfSquares, rss)).toBeGreaterThan(8);
  });

  it('takes a given Jacobian and reaches the same place', () => {
    const x = [0, 1, 2, 3, 4];
    const y = [2, 1.2, 0.75, 0.43, 0.28];
    const residuals = (b: Float64Array) => Float64Array.from(x, (xi, i) => y[i] - b[0] * exp(-b[1] * xi));
    const jacobian = (b: Float64Array) =>
      Float64Array.from(x.flatMap((xi) => [-exp(-b[1] * xi), b[0] * xi * exp(-b[1] * xi)]));
    const own = levenbergMarquardt({ residuals, start: [1, 1] });
    const given = levenbergMarquardt({ residuals, jacobian, start: [1, 1] });
    expect(given.parameters[0]).toBeCloseTo(own.parameters[0], 8);
    expect(given.standardErrors[1]).toBeCloseTo(own.standardErrors[1], 8);
  });

  it('says why it ended: a start without finite residuals, or too few steps', () => {
    const never = levenbergMarquardt({ residuals: () => Float64Array.of(Number.NaN, 1), start: [1] });
    expect(never).toMatchObject({ converged: false, reason: 'invalid start' });
    const { data, parameters } = strd.MGH09;
    const residuals = (b: Float64Array) => Float64Array.from(data, ([y, x]: number[]) => y - MODELS['MGH09'](b, x));
    const start = parameters.map((p: { start1: number }) => p.start1);
    expect(levenbergMarquardt({ residuals, start, maxSteps: 3 })).toMatchObject({
      converged: false,
      reason: 'step limit',
    });
  });

  it('settles on an exact fit with residuals of zero', () => {
    const fit = levenbergMarquardt({
      residuals: (b) => Float64Array.of(b[0] - 3, b[1] + 2, b[0] + b[1] - 1),
      start: [0, 0],
    });
    expect(fit.converged).toBe(true);
    expect(fit.parameters[0]).toBeCloseTo(3, 12);
    expect(fit.sumOfSquares).toBeCloseTo(0, 20);
  });
});
