import { describe, expect, it } from 'vitest';
import { randomSource } from '../statistics/random.ts';
import { bestPath } from './best-path.ts';

describe('the best path', () => {
  it('of nothing is empty', () => {
    expect(bestPath({ scores: [], reach: 1, cost: 1 })).toEqual({ states: new Int32Array(0), total: 0 });
  });
  it('of one step is its best state', () => {
    expect(bestPath({ scores: [Float64Array.of(1, 3, 2)], reach: 1, cost: 1 })).toEqual({
      states: Int32Array.of(1),
      total: 3,
    });
  });
  it('stays when a change costs more than it brings, and goes when it costs less', () => {
    const scores = [Float64Array.of(1, 0), Float64Array.of(0, 1), Float64Array.of(0, 1)];
    expect([...bestPath({ scores, reach: 1, cost: 0.9 }).states]).toEqual([0, 1, 1]);
    expect([...bestPath({ scores, reach: 1, cost: 1.1 }).states]).toEqual([1, 1, 1]);
  });
  it('never changes by more than its reach', () => {
    const scores = [Float64Array.of(9, 0, 0), Float64Array.of(0, 1, 9)];
    expect([...bestPath({ scores, reach: 1, cost: 0 }).states]).toEqual([0, 1]);
  });
  it('refuses a score that is not finite and rows of unequal length', () => {
    expect(() => bestPath({ scores: [Float64Array.of(Number.NaN)], reach: 0, cost: 0 })).toThrow('not finite');
    expect(() => bestPath({ scores: [new Float64Array(2), new Float64Array(3)], reach: 0, cost: 0 })).toThrow('row 1');
  });
  it('agrees with trying every path (twin)', () => {
    const { normal } = randomSource(3);
    const scores = Array.from({ length: 5 }, () => Float64Array.from({ length: 4 }, normal));
    const { states, total } = bestPath({ scores, reach: 2, cost: 0.3 });
    let most = Number.NEGATIVE_INFINITY;
    for (let code = 0; code < 4 ** 5; code++) {
      const path = scores.map((_, i) => Math.floor(code / 4 ** i) % 4);
      const steps = path.slice(1).map((state, i) => Math.abs(state - path[i]));
      if (steps.some((step) => step > 2)) continue;
      const sum =
        path.reduce((all, state, i) => all + scores[i][state], 0) - steps.reduce((all, d) => all + 0.3 * d * d, 0);
      most = Math.max(most, sum);
    }
    expect(total).toBeCloseTo(most, 12);
    expect(states).toHaveLength(5);
  });
});
