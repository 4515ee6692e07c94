import { expect, test } from 'vitest';
import type { BudgetView } from '../../contract/index.ts';
import { sortedBudget } from './budget.ts';
import { milliseconds, nudgeFigure } from './nudge.ts';

test('the figure counts in milliseconds and keeps missing missing', () => {
  const [line] = nudgeFigure({ offset: [-0.01, 0, null], correlation: [0.5, null, 1] }).lines;
  expect(line?.x).toEqual([-10, 0, null]);
  expect(line?.y).toEqual([0.5, null, 1]);
});

test.each([
  [null, true, '–'],
  [0.0123, false, '12.3 ms'],
  [0.5, true, '+500 ms'],
  [-0.5, true, '-500 ms'],
])('%s s is written %s %s', (...[seconds, sign, text]) => {
  expect(milliseconds(seconds, sign)).toBe(text);
});

test('the largest effect comes first, whatever power it acts on; unknown ones last', () => {
  const line = (name: string, engine: number | null, roll: number | null): BudgetView => ({
    name,
    engine,
    tyre: null,
    roll,
    sharing: 'shared',
    origin: '',
  });
  expect(
    sortedBudget([line('c', null, null), line('b', 1, 2), line('a', -5, 0)]).map(({ line: { name } }) => name),
  ).toEqual(['a', 'b', 'c']);
});
