import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../core/numerics/index.ts';
import { equalState, expectedCells, type StateCell } from './equal-state.ts';

interface Made {
  readonly levels: Readonly<Record<string, number>>;
  /** State of each pull; the response follows it with slope 2. */
  readonly states?: Readonly<Record<string, number>>;
  readonly noise?: number;
  readonly seed?: number;
  readonly steps?: number;
}

function cellsOf({ levels, states = {}, noise = 0, seed = 1, steps = 12 }: Made): StateCell[] {
  const random = randomSource(seed);
  return Object.entries(levels).flatMap(([key, level]) =>
    Array.from({ length: steps }, (_, step) => {
      const state = (states[key] ?? 0) + 0.01 * step;
      return { key, step, states: [state], response: 5 + Math.sin(step) + level + 2 * state + noise * random.normal() };
    }),
  );
}

const RULE = { name: 'state', slope: { value: 2, standardUncertainty: 0.001 } };

describe('levels at equal state', () => {
  it('cannot be had from one pull, from none, or from missing values', () => {
    const base = { rules: [RULE], anchor: { baseline: ['a'] }, noise: 0.01 };
    expect(equalState({ ...base, cells: [] })).toBeUndefined();
    expect(equalState({ ...base, cells: cellsOf({ levels: { a: 0 } }) })).toBeUndefined();
    const missing = cellsOf({ levels: { a: 0, b: 0 } }).map((cell) => ({ ...cell, response: Number.NaN }));
    expect(equalState({ ...base, cells: missing })).toBeUndefined();
  });

  it('are exact without noise: shape and state are taken out, the baseline’s mean is zero', () => {
    const cells = cellsOf({ levels: { a: 0.1, b: -0.1, c: 0.5 }, states: { a: 1, b: 0, c: 3 } });
    const found = equalState({ cells, rules: [RULE], anchor: { baseline: ['a', 'b'] }, noise: 0.01 });
    expect(found?.keys).toEqual(['a', 'b', 'c']);
    [0.1, -0.1, 0.5].forEach((level, i) => {
      expect(found?.levels[i]).toBeCloseTo(level, 3);
    });
  });

  it('do not care for a constant added to everything', () => {
    const cells = cellsOf({ levels: { a: 0, b: 0.2 }, noise: 0.05 });
    const ask = { rules: [RULE], anchor: { baseline: ['a'] }, noise: 0.01 };
    const one = equalState({ ...ask, cells });
    const other = equalState({ ...ask, cells: cells.map((cell) => ({ ...cell, response: cell.response + 100 })) });
    expect(other?.levels[1]).toBeCloseTo(one?.levels[1] ?? Number.NaN, 4);
  });

  it('are as uncertain as the believed slope makes them over the distance in state', () => {
    const cells = cellsOf({ levels: { a: 0, b: 0 }, states: { a: 0, b: 5 } });
    const unsure = { name: 'state', slope: { value: 1.6, standardUncertainty: 0.4 } };
    const found = equalState({ cells, rules: [unsure], anchor: { baseline: ['a'] }, noise: 0.01 });
    const spread = Math.sqrt(found?.covariance[3] ?? Number.NaN);
    expect(spread).toBeGreaterThan(1);
    expect(Math.abs(found?.levels[1] ?? Number.NaN)).toBeLessThan(2 * spread);
  });

  it('are not pulled by a few cells far off', () => {
    const clean = cellsOf({ levels: { a: 0, b: 0, c: 0 }, noise: 0.01 });
    const spoilt = clean.map((cell) =>
      cell.key === 'c' && cell.step < 2 ? { ...cell, response: cell.response - 3 } : cell,
    );
    const found = equalState({ cells: spoilt, rules: [RULE], anchor: { baseline: ['a', 'b'] }, noise: 0.01 });
    expect(Math.abs(found?.levels[2] ?? Number.NaN)).toBeLessThan(0.03);
  });

  it('learn the slope from pulls that differ in state when levels are believed to scatter about zero', () => {
    const states = { a: 0, b: 1, c: 2, d: 3, e: 4 };
    const cells = cellsOf({ levels: { a: 0, b: 0, c: 0, d: 0, e: 0 }, states, noise: 0.005 });
    const vague = { name: 'state', slope: { value: 1, standardUncertainty: 1 } };
    const found = equalState({ cells, rules: [vague], anchor: { random: 0.02 }, noise: 0.005 });
    expect(found?.slopes[0].value).toBeCloseTo(2, 1);
    expect(found?.slopes[0].standardUncertainty).toBeLessThan(0.05);
  });

  it('expect a new pull from the others, steps never seen left out', () => {
    const known = cellsOf({ levels: { a: 0, b: 0, c: 0 }, states: { a: 0, b: 1, c: 2 } });
    const state = equalState({ cells: known, rules: [RULE], anchor: { random: 0.01 }, noise: 0.001 });
    const asked = cellsOf({ levels: { n: 0 }, states: { n: 3 }, steps: 14 });
    const found = state && expectedCells(state, asked);
    expect(found?.cells).toHaveLength(12);
    found?.cells.forEach(({ response }, i) => {
      expect(found.expected[i]).toBeCloseTo(response, 2);
    });
    expect(found?.meanUncertainty).toBeLessThan(0.02);
  });

  it('state honest uncertainties: truth within two of them in 90–100 % of 200 drawn days', () => {
    let inside = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const cells = cellsOf({ levels: { a: 0, b: 0, c: 0.03 }, noise: 0.01, seed });
      const found = equalState({ cells, rules: [RULE], anchor: { baseline: ['a', 'b'] }, noise: 0.002 });
      const spread = Math.sqrt(found?.covariance[8] ?? Number.NaN);
      if (Math.abs((found?.levels[2] ?? Number.NaN) - 0.03) < 2 * spread) inside += 1;
    }
    expect(inside).toBeGreaterThan(180);
  });

  it('a state that never differed keeps the slope believed of it, so that another value is not expected blindly', () => {
    const flat = cellsOf({ levels: { a: 0, b: 0.01 } }).map((cell) => ({ ...cell, states: [4] }));
    const rule = { name: 'state', slope: { value: 2, standardUncertainty: 0.1 } };
    const state = equalState({ cells: flat, rules: [rule], anchor: { random: 0.01 }, noise: 0.01 });
    expect(state?.slopes[0]?.standardUncertainty).toBeCloseTo(0.1, 6);
    const away = flat.filter(({ key }) => key === 'a').map((cell) => ({ ...cell, states: [5] }));
    expect(state && expectedCells(state, away).meanUncertainty).toBeLessThan(0.11);
  });
});
