import { describe, expect, test } from 'vitest';
import { thinned } from './thinned.ts';

const whole = (values: readonly number[], times = values.map((_, at) => at)) => ({
  times: Float64Array.from(times),
  values: Float64Array.from(values),
  pieces: [{ from: 0, to: values.length }],
});
const all = { from: 0, to: 1e9, points: 1000 };

describe('thinning for drawing', () => {
  test('nothing stays nothing', () => {
    expect(thinned(whole([]), all)).toEqual({ times: [], values: [] });
    expect(thinned({ ...whole([1]), pieces: [] }, all)).toEqual({ times: [], values: [] });
  });

  test('few samples come back as they are', () => {
    expect(thinned(whole([3, 1, 2]), all)).toEqual({ times: [0, 1, 2], values: [3, 1, 2] });
  });

  test('missing samples in a row become one null; at the beginning too', () => {
    expect(thinned(whole([Number.NaN, 1, Number.NaN, Number.NaN, 4]), all).values).toEqual([null, 1, null, 4]);
  });

  test('two pieces are broken between their ends, at a time of its own', () => {
    const samples = {
      ...whole([1, 2, 3, 4], [0, 1, 10, 11]),
      pieces: [
        { from: 0, to: 2 },
        { from: 2, to: 4 },
      ],
    };
    expect(thinned(samples, all)).toEqual({ times: [0, 1, 5.5, 10, 11], values: [1, 2, null, 3, 4] });
  });

  test('a spike of one sample among a million survives', () => {
    const values = new Array<number>(1_000_000).fill(1);
    values[777_777] = 99;
    const { values: kept } = thinned(whole(values), { ...all, points: 200 });
    expect(kept.length).toBeLessThan(260);
    expect(kept).toContain(99);
  });

  test('a window keeps one sample more on both sides, so that the line reaches its edges', () => {
    expect(thinned(whole([0, 1, 2, 3, 4, 5]), { from: 2, to: 3, points: 100 }).times).toEqual([1, 2, 3]);
  });
});
