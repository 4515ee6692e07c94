import { describe, expect, it } from 'vitest';
import { learntFrom, type Row } from './expectation.ts';

const SCATTER = { repeat: 0.007, wander: 0.0012 };

function rows(
  order: number,
  residual: number,
  features: Readonly<Record<string, number>> = { level: 0.05 },
): readonly Row[] {
  return [0.5, 0.6, 0.7, 0.8, 0.9].map((share) => ({
    ...{ pull: `${order}`, order, share, pressure: 190e3, unlogged: 0, residual },
    features: new Map(Object.entries(features)),
  }));
}
const expected = (known: readonly Row[], asked: readonly Row[], scatter = SCATTER) => {
  const found = learntFrom(known, scatter)?.expected(asked) ?? [];
  return found.reduce((sum, value) => sum + value, 0) / found.length;
};
const spread = (known: readonly Row[], asked: readonly Row[], only?: string) =>
  learntFrom(known, SCATTER)?.uncertainty(asked, only === undefined ? undefined : new Set([only])) ?? Number.NaN;

describe('what rows teach of further rows', () => {
  it('pulls that agree are expected again, the surer the more there are', () => {
    const pulls = (count: number) => Array.from({ length: count }, (_, i) => rows(i, 0.03)).flat();
    expect(expected(pulls(6), rows(9, 0))).toBeCloseTo(0.03, 2.5);
    const spreads = [1, 2, 4, 8].map((count) => spread(pulls(count), rows(9, 0)));
    expect(spreads).toEqual(spreads.toSorted((a, b) => b - a));
    expect(spreads[0]).toBeGreaterThan(0.007);
    expect(spreads[3]).toBeLessThan(0.007);
  });

  it('what falls slowly is hardly expected to have fallen: the level leans to that of the first', () => {
    const falling = Array.from({ length: 16 }, (_, i) => rows(i, -0.003 * i)).flat();
    const mean = -0.003 * 7.5;
    expect(expected(falling, rows(16, 0), { ...SCATTER, wander: 0 })).toBeCloseTo(mean, 2);
    expect(expected(falling, rows(16, 0))).toBeGreaterThan(0.8 * mean);
    expect(expected(falling, rows(16, 0), { ...SCATTER, wander: 0.01 })).toBeGreaterThan(0.2 * mean);
  });

  it('a feature that was never there keeps its prior spread, and loses it once seen; shift is in units of it', () => {
    const set = { level: 0.05, cam: 0.03 };
    const before = [0, 1, 2, 3].flatMap((order) => rows(order, 0));
    expect(spread(before, rows(9, 0, set), 'cam')).toBeCloseTo(0.03, 6);
    expect(spread(before, rows(9, 0, set))).toBeGreaterThan(0.03);
    const after = [...before, ...[4, 5, 6].flatMap((order) => rows(order, -0.02, set))];
    expect(spread(after, rows(9, 0, set), 'cam')).toBeLessThan(0.01);
    expect(expected(after, rows(9, 0, set))).toBeCloseTo(-0.02, 2);
    expect(expected(after, rows(9, 0))).toBeCloseTo(0, 2);
    expect(learntFrom(after, SCATTER)?.shift('cam')).toBeCloseTo(-0.02 / 0.03, 0);
  });

  it('what no channel shows stands in every pull', () => {
    const blind = (list: readonly Row[]) => list.map((row) => ({ ...row, unlogged: 0.012 }));
    const known = [0, 1, 2, 3].flatMap((order) => rows(order, 0));
    expect(spread(known, blind(rows(9, 0)))).toBeGreaterThan(0.012);
    expect(spread(blind(known), rows(9, 0))).toBeGreaterThan(spread(known, rows(9, 0)));
  });
});
