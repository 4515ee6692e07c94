import { describe, expect, it } from 'vitest';
import { separatingQuestions } from './separation.ts';
import { breakup, knocking, limiter, oscillation, pumpStarves, syncLoss, tyreSlip } from './testing/faults.ts';
import { type Invented, inventedPull } from './testing/invented-pull.ts';
import { limitsWith } from './thresholds.ts';

/** Answers about the stretch from s to s after tip-in. */
function answers(invented: Invented, [from, to]: readonly [number, number]) {
  const window = { from: 3 + from, to: 3 + to, lowSpeed: 400, highSpeed: 500 };
  const { tied, commanded, supply } = separatingQuestions(inventedPull(invented), window, limitsWith());
  return { tied: tied.answer, commanded: commanded.answer, supply: supply.answer };
}

describe('the three separating questions', () => {
  it.each([
    { name: 'tyre slip', pull: tyreSlip(), span: [4.8, 6.2], tied: 'free', commanded: 'unchanged', supply: 'neither' },
    { name: 'breakup', pull: breakup(), span: [6, 8.7], tied: 'tied', commanded: 'unchanged', supply: 'neither' },
    { name: 'a limiter', pull: limiter(), span: [8.6, 9.8], tied: 'tied', commanded: 'changed' },
    {
      name: 'a starving pump',
      pull: pumpStarves(),
      span: [8, 9.8],
      tied: 'tied',
      commanded: 'unchanged',
      supply: 'fuel',
    },
    { name: 'lost sync', pull: syncLoss(), span: [6, 6.1], commanded: 'unchanged' },
  ] as const)('tell $name', ({ name: _, pull, span, ...expected }) => {
    expect(answers(pull, span)).toMatchObject(expected);
  });

  it('see large boost swings as air', () => {
    expect(answers(oscillation(25e3), [2.2, 6.8]).supply).toBe('air');
  });

  it('say that nothing changed where knock retard is not commanded timing', () => {
    expect(answers(knocking(), [3, 4]).tied).toBe('tied');
  });

  it('answer unknown where no channel tells', () => {
    const without = [
      'roll-speed',
      'cut-status',
      'throttle',
      'ignition-timing',
      'lambda-target',
      'manifold-target',
    ] as const;
    const bare = {
      without: [...without, 'injector-duty', 'lambda', 'fuel-pressure-difference', 'brake-force'] as const,
    };
    expect(answers(bare, [4, 5])).toEqual({ tied: 'unknown', commanded: 'unknown', supply: 'unknown' });
  });
});
