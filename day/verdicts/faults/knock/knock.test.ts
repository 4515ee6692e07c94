import { expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, knocking, limiter, syncLoss } from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { knock } from './knock.ts';

behaves({
  detector: knock,
  fault: knocking(),
  below: knocking(0.012),
  lookAlikes: { breakup: breakup(), 'lost sync': syncLoss(), 'a limiter': limiter() },
  span: [3, 8],
});

const degree = Math.PI / 180;
/** Single steps back of 1.5 degrees that recover before the next one, so many seconds apart. */
const steps = (apart: number): Invented => ({
  without: ['knock-level'],
  change: {
    'knock-retard@cylinder 1': (_, { t, full }) =>
      full && t > 3 ? Math.max(0, 1.5 - 1.5 * (((t - 3) % apart) / 1)) * degree : 0,
  },
});
const stays: Invented = {
  without: ['knock-level'],
  change: { 'knock-retard@cylinder 1': (_, { t, full }) => (full && t > 3 ? 1.7 * degree : 0) },
};

it('leaves single small steps back to the control, and sees timing that stays back', () => {
  expect(detected(knock, steps(2.5)).answer).toBe('not seen');
  expect(detected(knock, stays).answer).toBe('seen');
});
