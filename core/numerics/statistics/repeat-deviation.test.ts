import { describe, expect, it } from 'vitest';
import { repeatDeviation } from './repeat-deviation.ts';

describe('deviation of repeats', () => {
  it('is the earlier belief where nothing was repeated', () => {
    const prior = { value: 0.7, degreesOfFreedom: 5 };
    expect(repeatDeviation({ groups: [], prior }).value).toBeCloseTo(0.7, 12);
    expect(repeatDeviation({ groups: [[1], [9, Number.NaN]], prior })).toEqual(repeatDeviation({ groups: [], prior }));
  });

  it('is the pooled deviation where nothing was believed', () => {
    const none = { value: 0, degreesOfFreedom: 0 };
    // (1, 3): sum of squares 2, one degree of freedom; (10, 11, 12): 2 and two
    const found = repeatDeviation({
      groups: [
        [1, 3],
        [10, 11, 12],
      ],
      prior: none,
    });
    expect(found.value).toBeCloseTo(Math.sqrt(4 / 3), 12);
    expect(found.degreesOfFreedom).toBe(3);
    expect(repeatDeviation({ groups: [], prior: none }).value).toBeNaN();
  });

  it('moves from belief to data as repeats come in', () => {
    const prior = { value: 1, degreesOfFreedom: 4 };
    const few = repeatDeviation({ groups: [[0, 4]], prior }).value;
    const many = repeatDeviation({ groups: Array.from({ length: 40 }, () => [0, 4]), prior }).value;
    expect(few).toBeGreaterThan(1);
    expect(many).toBeGreaterThan(few);
    expect(many).toBeLessThan(Math.sqrt(8));
  });
});
