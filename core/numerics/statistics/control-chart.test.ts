import { describe, expect, it } from 'vitest';
import { correlatedEwmaChart, cusumChart, ewmaChart, individualsChart, sumStart } from './control-chart.ts';

const EWMA_DATA = [
  52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
  52.1,
];
const EWMA_WANTED = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73,
  51.23, 51.94, 51.99,
];
const CUSUM_DATA = [
  324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
  327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
];

describe('control charts', () => {
  it('check 8-14 (NIST e-Handbook 6.3.2.4, seen in source): EWMA', () => {
    const found = ewmaChart({ samples: EWMA_DATA, target: 50, deviation: 2.0539, share: 0.3, missing: 'refuse' });
    EWMA_WANTED.forEach((wanted, i) => {
      expect(Math.abs(found.statistic[i] - wanted)).toBeLessThanOrEqual(0.005 + 1e-9);
    });
    expect(Math.abs(found.high - 52.5884)).toBeLessThan(0.001);
    expect(Math.abs(found.low - 47.4115)).toBeLessThan(0.001);
    expect(found.outside).toEqual([]);
  });

  it('check 8-15 (Shewhart individuals chart, computed with numpy 2.4.6)', () => {
    const samples = [350.1, 351.4, 349.2, 352.3, 350.8, 351.9, 348.7, 350.5];
    const found = individualsChart(samples, 'refuse');
    expect(found.centre).toBeCloseTo(350.6125, 9);
    // the printed limits use 2.66, a rounding of 3/1.128
    expect(Math.abs(found.low - 345.2165)).toBeLessThan(1e-3);
    expect(Math.abs(found.high - 356.0085)).toBeLessThan(1e-3);
  });

  it('CUSUM of the NIST e-Handbook 6.3.2.3 example (from memory): target 325, k 0.3175, h 4.1959', () => {
    const found = cusumChart({ samples: CUSUM_DATA, target: 325, slack: 0.3175, limit: 4.1959, missing: 'refuse' });
    expect(found.high[12]).toBeCloseTo(3.01, 2);
    expect(found.high[13]).toBeCloseTo(4.94, 2);
    expect(found.high[19]).toBeCloseTo(19.04, 2);
    expect(found.low[3]).toBeCloseTo(0.33, 2);
    expect(found.outside).toEqual([13, 14, 15, 16, 17, 18, 19]);
  });

  it('a point exactly on a limit is inside', () => {
    const chart = ewmaChart({ samples: [3], target: 0, deviation: 1, share: 1, missing: 'refuse' });
    expect(chart.outside).toEqual([]);
    expect(ewmaChart({ samples: [3.001], target: 0, deviation: 1, share: 1, missing: 'refuse' }).outside).toEqual([0]);
    expect(() => ewmaChart({ samples: [1], target: 0, deviation: 1, share: 0, missing: 'refuse' })).toThrow('share: 0');
  });

  it('follow the policy for missing samples', () => {
    const samples = [1, Number.NaN, 2];
    expect(individualsChart(samples, 'skip').statistic).toHaveLength(2);
    expect(individualsChart(samples, 'propagate').centre).toBeNaN();
    expect(() => individualsChart(samples, 'refuse')).toThrow('index 1');
    expect(individualsChart([5], 'refuse').low).toBeNaN();
  });

  it('NIST e-Handbook 6.3.2.4: with independent equal samples the point limits start narrow and end at the printed ones', () => {
    const covariance = independent(EWMA_DATA.length, 2.0539 ** 2);
    const found = correlatedEwmaChart({ samples: EWMA_DATA, target: 50, covariance, share: 0.3 });
    EWMA_WANTED.forEach((wanted, i) => {
      expect(Math.abs(found.statistic[i] - wanted)).toBeLessThanOrEqual(0.005 + 1e-9);
      const exact = 3 * 2.0539 * Math.sqrt((0.3 / 1.7) * (1 - 0.7 ** (2 * (i + 1))));
      expect(found.high[i] - 50).toBeCloseTo(exact, 9);
    });
    expect(Math.abs(found.high[19] - 52.5884)).toBeLessThan(0.001);
    expect(found.outside).toEqual([]);
  });

  it('an error that all samples share does not average away', () => {
    const samples = [1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5];
    const own = correlatedEwmaChart({ samples, target: 0, covariance: independent(8, 1) });
    const shared = correlatedEwmaChart({ samples, target: 0, covariance: new Float64Array(64).fill(1) });
    expect(own.outside).not.toEqual([]);
    expect(shared.outside).toEqual([]);
    expect(shared.deviation[7]).toBeCloseTo(1 - 0.7 ** 8, 9);
  });

  it('refuse a covariance of another size, a missing sample and an impossible share', () => {
    expect(() => correlatedEwmaChart({ samples: [1, 2], target: 0, covariance: [1] })).toThrow('2 × 2');
    expect(() => correlatedEwmaChart({ samples: [Number.NaN], target: 0, covariance: [1] })).toThrow('index 0');
    expect(() => correlatedEwmaChart({ samples: [1], target: 0, covariance: [1], share: 2 })).toThrow('share: 2');
    expect(correlatedEwmaChart({ samples: [], target: 0, covariance: [] }).outside).toEqual([]);
  });

  it('say since when a sum has been growing (NIST e-Handbook 6.3.2.3 data: since the thirteenth sample at the latest)', () => {
    const { high } = cusumChart({ samples: CUSUM_DATA, target: 325, slack: 0.3175, limit: 4.1959, missing: 'refuse' });
    expect(sumStart(high, 13)).toBe(12);
    expect(sumStart(high, 19)).toBe(12);
    expect(sumStart([0, 0, 0], 1)).toBeUndefined();
    expect(sumStart([0.5, 0.2], 1)).toBe(0);
  });
});

function independent(count: number, variance: number): Float64Array {
  const covariance = new Float64Array(count * count);
  for (let i = 0; i < count; i++) covariance[i * count + i] = variance;
  return covariance;
}
