import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, limiter, syncLoss, tyreSlip } from '../../testing/faults.ts';
import type { Invented } from '../../testing/invented-pull.ts';
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

  it('cannot be told without a counter where the drive is read too seldom to show a stop', () => {
    const seldom = {
      without: ['sync-errors'] as const,
      rates: { 'brake-force': 20, 'roll-speed': 20, 'engine-speed': 20 },
    };
    expect(detected(lostSync, seldom)).toMatchObject({ answer: 'cannot tell', missing: ['sync-errors'] });
    expect(detected(lostSync, { ...seldom, without: [] }).answer).toBe('not seen');
    expect(detected(lostSync, { without: ['sync-errors'] }).answer).toBe('not seen');
  });

  it('holds where the log is too slow to show what speed the trigger made of it', () => {
    const counts = (
      rate: number,
      speed: (value: number, at: { t: number }) => number = (value) => value,
    ): Invented => ({
      rates: { 'engine-speed': rate, 'sync-errors': rate },
      change: { 'sync-errors': (value, { t }) => value + (t > 6.01 ? 1 : 0), 'engine-speed': speed },
    });
    expect(detected(lostSync, counts(10))).toMatchObject({ answer: 'seen', stopClass: 2 });
    expect(detected(lostSync, counts(50))).toMatchObject({ answer: 'seen', stopClass: 1 });
    expect(detected(lostSync, counts(10, zero(5.95, 6.05)))).toMatchObject({ answer: 'seen', stopClass: 1 });
  });

  it('is no lost trigger when speed reads zero and the drive goes on', () => {
    const found = detected(lostSync, { without: ['sync-errors'], change: { 'engine-speed': zero(6, 6.06) } });
    expect(found.answer, JSON.stringify(found.features)).toBe('not seen');
  });

  it('is seen by teeth that are counted twice for several samples, where the drive is read too seldom to show it', () => {
    const twice = (from: number) => (t: number) => (t > from && t < from + 0.07 ? 2 : 1);
    const seldom: Invented = {
      without: ['sync-errors'],
      rates: { 'brake-force': 20, 'roll-speed': 20 },
      change: { 'engine-speed': (value, { t }) => value * twice(6)(t) * twice(8)(t) },
    };
    expect(detected(lostSync, seldom).answer).toBe('seen');
    expect(detected(lostSync, { ...seldom, rates: {} }).answer).toBe('not seen');
    const odd = (value: number, { t }: { t: number }): number => value * (Math.abs(t - 6) < 0.006 ? 2 : 1);
    expect(detected(lostSync, { ...seldom, change: { 'engine-speed': odd } }).answer).toBe('not seen');
  });

  it('is not one stop of all cylinders among bursts in which some failed', () => {
    const falls = (t: number, at: number): boolean => t > at && t < at + 0.12;
    const stops = (bursts: readonly number[]): Invented => ({
      without: ['sync-errors'],
      change: {
        'brake-force': (value, { t }) => value * (falls(t, 6) ? -0.3 : bursts.some((at) => falls(t, at)) ? 0.75 : 1),
        lambda: (value, { t }) => value + (falls(t, 6) ? 0.5 : bursts.some((at) => falls(t, at)) ? 0.15 : 0),
      },
    });
    expect(detected(lostSync, stops([])).answer).toBe('seen');
    expect(detected(lostSync, stops([3, 4.2, 7.5, 8.6])).answer).toBe('not seen');
  });
});
