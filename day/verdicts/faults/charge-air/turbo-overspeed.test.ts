import { describe, expect, it } from 'vitest';
import { detected } from '../../testing/behaves.ts';
import type { Invented } from '../../testing/invented-pull.ts';
import { turboOverspeed } from './turbo-overspeed.ts';

describe('turbo overspeed at the end of full load', () => {
  const LIMIT = 12_000;
  const over = (from: number, to: number): Invented => ({
    change: { 'turbo-speed': (value, { t }) => (t > from && t < to ? 1.08 * LIMIT : value) },
  });
  const seen = (from: number, to: number) => detected(turboOverspeed, over(from, to), { 'turbo.limit': LIMIT });

  it('counts while the wheel turns on for a moment', () => {
    const found = seen(10.06, 10.28);
    expect(found, JSON.stringify(found.features)).toMatchObject({ answer: 'seen', stopClass: 3 });
    expect(found.windows[0].from).toBeGreaterThan(13);
  });

  it('does not count later', () => {
    expect(seen(10.4, 10.8).answer).toBe('not seen');
  });
});
