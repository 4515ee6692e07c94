import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  chiSquaredCdf,
  chiSquaredQuantile,
  fCdf,
  fQuantile,
  normalCdf,
  normalQuantile,
  studentCdf,
  studentQuantile,
} from './distributions.ts';
import { logGamma } from './special-functions.ts';

const reference = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/scipy.json'), 'utf8'));

describe('quantiles', () => {
  it('check 8-13 (computed with scipy 1.17.1): printed digits', () => {
    expect(studentQuantile(0.975, 4)).toBeCloseTo(2.77645, 5);
    expect(studentQuantile(0.975, 10)).toBeCloseTo(2.22814, 5);
    expect(studentQuantile(0.995, 16)).toBeCloseTo(2.92078, 5);
    expect(fQuantile(0.95, { numerator: 3, denominator: 12 })).toBeCloseTo(3.49029, 5);
    expect(chiSquaredQuantile(0.95, 7)).toBeCloseTo(14.06714, 5);
  });

  it('agree with scipy 1.17.1 to 1e-10 over tails and odd degrees of freedom (computed reference)', () => {
    for (const [p, wanted] of reference.normal) expect(normalQuantile(p) / wanted).toBeCloseTo(1, 10);
    for (const [p, v, wanted] of reference.student) expect(studentQuantile(p, v) / wanted).toBeCloseTo(1, 10);
    for (const [p, v, wanted] of reference.chiSquared) expect(chiSquaredQuantile(p, v) / wanted).toBeCloseTo(1, 10);
    for (const [p, numerator, denominator, wanted] of reference.f) {
      expect(fQuantile(p, { numerator, denominator }) / wanted).toBeCloseTo(1, 10);
    }
  });

  it('have exact ends and refuse what is no probability', () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(1.1)).toBeNaN();
    expect(studentQuantile(0.975, 0)).toBeNaN();
    expect(chiSquaredQuantile(0, 3)).toBe(0);
    expect(fQuantile(1, { numerator: 1, denominator: 1 })).toBe(Number.POSITIVE_INFINITY);
  });

  it('undo the distribution functions', () => {
    for (const p of [1e-9, 0.1, 0.5, 0.77, 0.999]) {
      expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 11);
      expect(studentCdf(studentQuantile(p, 3.3), 3.3) / p).toBeCloseTo(1, 11);
      expect(chiSquaredCdf(chiSquaredQuantile(p, 3.3), 3.3) / p).toBeCloseTo(1, 11);
      const shape = { numerator: 4, denominator: 9 };
      expect(fCdf(fQuantile(p, shape), shape) / p).toBeCloseTo(1, 11);
    }
  });

  it('of Student are symmetric, become normal for many degrees of freedom, and their square is F', () => {
    expect(studentQuantile(0.2, 5)).toBeCloseTo(-studentQuantile(0.8, 5), 12);
    expect(studentCdf(1.3, Number.POSITIVE_INFINITY)).toBe(normalCdf(1.3));
    // computed with scipy 1.17.1
    expect(studentQuantile(0.975, 1e6)).toBeCloseTo(1.959966356814107, 10);
    expect(studentQuantile(0.975, 7) ** 2).toBeCloseTo(fQuantile(0.95, { numerator: 1, denominator: 7 }), 10);
  });
});

it('the logarithm of the gamma function agrees with factorials and scipy 1.17.1', () => {
  expect(logGamma(6)).toBeCloseTo(Math.log(120), 13);
  for (const [x, wanted] of reference.logGamma) {
    expect(Math.abs(logGamma(x) - wanted)).toBeLessThan(1e-13 * Math.max(1, Math.abs(wanted)) * 10);
  }
});
