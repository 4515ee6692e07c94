import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, limiter, syncLoss, tyreSlip } from '../../testing/faults.ts';
import { lostSync } from './lost-sync.ts';

behaves({
  detector: lostSync,
  fault: syncLoss(),
  below: syncLoss(0),
  lookAlikes: { breakup: breakup(), 'a limiter': limiter(), 'tyre slip': tyreSlip() },
  span: [6, 6.5],
});

describe('lost-sync', () => {
  const zero =
    (from: number, to: number) =>
    (value: number, { t }: { t: number }) =>
      t > from && t < to ? 0 : value;

  it('is seen in a short loss that the drive shows as a dip only', () => {
    const found = detected(lostSync, {
      without: ['sync-errors'],
      change: { 'engine-speed': zero(6, 6.06), 'brake-force': (value, { t }) => value * (t > 6 && t < 6.06 ? 0.3 : 1) },
    });
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
  });

  it('is no lost trigger when speed reads zero and the drive goes on', () => {
    const found = detected(lostSync, { without: ['sync-errors'], change: { 'engine-speed': zero(6, 6.06) } });
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });
});
