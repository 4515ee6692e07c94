import { describe, expect, it } from 'vitest';
import type { Alignment, ClockPiece } from '../../../day/channels/index.ts';
import type { BudgetLine } from '../../../day/pulls/index.ts';
import { budgetTables } from './budget-text.ts';
import { clockText, joinText } from './clock-text.ts';

const piece: ClockPiece = {
  ...{ from: 0, to: 30, offset: 3.21, offsetUncertainty: 0.002, residual: 0.0021, lags: [] },
  ...{ rate: 85e-6, rateUncertainty: 15e-6 },
};

describe('the line of the clocks', () => {
  it('gives the rate with its band', () => {
    expect(clockText(piece)).toBe('offset 3.210 ± 0.004 s, rate 85 ± 30 ppm, residual 2.1 ms');
  });

  it('claims no rate that is smaller than its band', () => {
    expect(clockText({ ...piece, rate: -29e-6 })).toContain('rate not resolved (within ± 30 ppm)');
    expect(clockText({ ...piece, rate: -31e-6 })).toContain('rate -31 ± 30 ppm');
  });

  it('leaves out what a join by hand does not have', () => {
    const byHand: Alignment = {
      ...{ clock: 'a', other: 'b', correlation: 1, second: undefined, by: 'hand' },
      pieces: [piece],
    };
    expect(joinText(byHand)).toBe('joined by hand');
    expect(clockText({ ...piece, residual: Number.NaN })).not.toContain('residual');
  });
});

describe('the budget of several pulls', () => {
  const line = (origin: string): BudgetLine => ({
    ...{ name: 'rolling loss', roll: 0, tyre: 0, engine: 900, sharing: 'shared', origin },
  });
  const pull = (origin: string) => ({ budget: [line(origin)] });

  it('names the origin of each pull where they differ', () => {
    const text = budgetTables([pull('coast-down C1'), pull('coast-down C2'), pull('coast-down C1')], {
      width: 200,
      system: 'metric',
    }).join('\n');
    expect(text).toContain('pulls 1, 3: coast-down C1; pull 2: coast-down C2');
  });

  it('names it once where they share it', () => {
    const text = budgetTables([pull('as stated'), pull('as stated')], { width: 200, system: 'metric' }).join('\n');
    expect(text).toMatch(/shared +as stated$/m);
  });
});
