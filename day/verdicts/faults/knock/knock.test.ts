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

/** Events that only a counter shows, so many a second from 4 to 8 s after tip-in. */
const counted = (rate: number): Invented => ({
  without: ['knock-level', 'knock-retard'],
  change: { 'knock-count': (_, { t }) => Math.floor(rate * Math.max(0, Math.min(4, t - 4)) + 1e-9) },
});

it('holds for events that come often although a counter alone shows them', () => {
  const often = detected(knock, counted(20));
  expect(often).toMatchObject({ answer: 'seen', stopClass: 2 });
  expect(often.windows[0].from).toBeGreaterThan(6.9);
  expect(often.windows[0].to).toBeLessThan(11.1);
  expect(detected(knock, counted(0.5)).answer).toBe('not seen');
});

it('believes a large retard although nothing else is logged', () => {
  const large: Invented = {
    without: ['knock-level', 'knock-count'],
    change: { 'knock-retard@cylinder 1': (_, { t, full }) => (full && t > 3 ? 8 * degree : 0) },
  };
  const found = detected(knock, large);
  expect(found).toMatchObject({ answer: 'seen', stopClass: 2 });
  expect(found.strength).toBeGreaterThan(0.7);
});
