import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import {
  brierScore,
  type Claim,
  calibrated,
  calibrationError,
  fittedLine,
  lnOdds,
  reliability,
  wilson,
} from './calibration.ts';

/** Claims whose told probability is too sure by a factor in ln odds. */
function overconfident(count: number, seed: number, factor: number): Claim[] {
  const random = randomSource(seed);
  return Array.from({ length: count }, () => {
    const x = 3 * random.normal();
    const right = random.uniform() < 1 / (1 + Math.exp(-x));
    return { probability: 1 / (1 + Math.exp(-factor * x)), right };
  });
}

describe('the calibration line', () => {
  it('finds back by how much claims were too sure', () => {
    const { slope, intercept } = fittedLine(overconfident(4000, 5, 2.5));
    expect(slope).toBeCloseTo(1 / 2.5, 1);
    expect(Math.abs(intercept)).toBeLessThan(0.15);
  });

  it('improves claims that it has not seen', () => {
    const line = fittedLine(overconfident(1000, 1, 2.5));
    const others = overconfident(1000, 2, 2.5);
    const better = others.map((claim) => ({ ...claim, probability: calibrated(claim.probability, line) }));
    expect(calibrationError(better)).toBeLessThan(0.6 * calibrationError(others));
    expect(brierScore(better)).toBeLessThan(brierScore(others));
  });

  it('stays the prior line without claims, and near it with few', () => {
    expect(fittedLine([])).toEqual({ slope: 1, intercept: 0 });
    const few = fittedLine([{ probability: 0.9, right: false }], { slope: 1, intercept: 0 }, 15);
    expect(few.intercept).toBeGreaterThan(-0.2);
  });

  it('keeps the order of claims, and never says impossible or certain', () => {
    const line = { slope: 0.6, intercept: -0.4 };
    const told = [0, 0.1, 0.4, 0.7, 0.95, 1].map((p) => calibrated(p, line));
    expect([...told].sort((a, b) => a - b)).toEqual(told);
    expect(told.at(-1)).toBeLessThan(1);
    expect(fittedLine(overconfident(200, 3, 1).map((one) => ({ ...one, right: !one.right }))).slope).toBeGreaterThan(0);
  });
});

describe('scores of claims', () => {
  it('are Brier’s: 0 for perfect, 0.25 for a half throughout', () => {
    expect(
      brierScore([
        { probability: 1, right: true },
        { probability: 0, right: false },
      ]),
    ).toBe(0);
    expect(
      brierScore([
        { probability: 0.5, right: true },
        { probability: 0.5, right: false },
      ]),
    ).toBe(0.25);
    expect(brierScore([])).toBeNaN();
  });

  it('count told against right, bin by bin', () => {
    const claims = [0.95, 0.95, 0.95, 0.95].map((probability, i) => ({ probability, right: i > 0 }));
    expect(reliability(claims)).toMatchObject([{ claims: 4, right: 0.75 }]);
    expect(calibrationError(claims)).toBeCloseTo(0.2, 12);
    expect(reliability([])).toEqual([]);
    expect(calibrationError([])).toBeNaN();
  });

  it('have the interval that Wilson gives', () => {
    // Wilson, J. Am. Stat. Assoc. 22 (1927) 209; worked by hand with z = 1.96: 10 of 10 → 10/(10 + 1.96²) = 0.722 … 1; 5 of 10 → 0.237 … 0.763.
    expect(wilson(10, 10).low).toBeCloseTo(0.7225, 3);
    expect(wilson(5, 10).low).toBeCloseTo(0.2366, 3);
    expect(wilson(5, 10).high).toBeCloseTo(0.7634, 3);
    expect(wilson(0, 0)).toEqual({ low: 0, high: 1 });
  });

  it('use ln odds that stay finite', () => {
    expect(lnOdds(0.5)).toBe(0);
    expect(Number.isFinite(lnOdds(0)) && Number.isFinite(lnOdds(1))).toBe(true);
  });
});
