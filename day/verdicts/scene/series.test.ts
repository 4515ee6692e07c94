import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { runningQuantile } from './series.ts';

/** The slow, plain twin: sorts every window anew. */
function plainQuantile(values: Float64Array, reach: number, probability: number): Float64Array {
  return values.map((_, i) => {
    const near = [...values.subarray(Math.max(0, i - reach), i + reach + 1)]
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    return near.length < Math.max(1, reach)
      ? Number.NaN
      : near[Math.min(near.length - 1, Math.floor(probability * near.length))];
  });
}

describe('running quantile', () => {
  it.each([
    [0, 0.5],
    [1, 0.5],
    [7, 0.2],
    [40, 0.8],
  ])('equals its plain twin, reach %d, probability %d, with missing and equal values', (reach, probability) => {
    const random = randomSource(3);
    const values = Float64Array.from({ length: 200 }, (_, i) =>
      i % 17 === 3 ? Number.NaN : Math.round(8 * random.normal()) / 4,
    );
    const times = values.map((_, i) => i / 10);
    expect(runningQuantile({ times, values }, reach / 10, probability)).toEqual(
      plainQuantile(values, reach, probability),
    );
  });

  it('has nothing to say without values', () => {
    const empty = new Float64Array(0);
    expect(runningQuantile({ times: empty, values: empty }, 1, 0.5)).toEqual(empty);
  });
});
