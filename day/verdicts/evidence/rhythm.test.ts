import { describe, expect, it } from 'vitest';
import { inventedPull } from '../testing/invented-pull.ts';
import { rhythmicLosses } from './rhythm.ts';

/**
 * Torque is cut from 8 to 9.6 s after tip-in, with a swing of `hertz` in engine speed until `until`; from 8.75 s on the drive rings slowly, and more
 * strongly than that.
 */
function losses({ hertz, until = 9.6, seed = 1 }: { hertz: number; until?: number; seed?: number }) {
  const [cut, rings] = [8, 8.75].map((from) => (t: number) => (t > from && t < 9.6 ? 1 : 0));
  return rhythmicLosses(
    inventedPull({
      ...{ rate: 50, seed, without: ['lambda'] },
      change: {
        'brake-force': (value, { t }) => value * (1 - 0.15 * cut(t)),
        'engine-speed': (value, { t }) =>
          value +
          (t < until ? 3 * cut(t) * Math.sin(2 * Math.PI * hertz * t) : 0) +
          4 * rings(t) * Math.sin(2 * Math.PI * 4.2 * (t - 8.75)),
      },
    }),
  );
}

describe('a limiter’s line beside a slow swing that is stronger in one half', () => {
  it.each([8, 10, 13])('counts where it is strong in both halves: %d Hz', (hertz) => {
    for (const seed of [1, 2, 3]) {
      const [only] = losses({ hertz, seed });
      expect(only?.from).toBeGreaterThan(11);
      expect(only?.to).toBeLessThan(13);
    }
  });

  it.each([8, 10, 13])('does not where it ends with the first half: %d Hz', (hertz) => {
    expect(losses({ hertz, until: 8.7 })).toEqual([]);
  });
});

describe('torque that falls steeply towards the redline by itself', () => {
  /** Falls by `fall` per second from 2 s after tip-in on, and by `cut` more from 8 s on, with a swing of 10 Hz from 7 s on. */
  const falling = (fall: number, cut: number) =>
    rhythmicLosses(
      inventedPull({
        ...{ rate: 50, without: ['lambda'] },
        change: {
          'brake-force': (value, { t }) =>
            value * (1 - fall * Math.max(0, Math.min(8, t - 2))) * (1 - (t > 8 && t < 9.6 ? cut : 0)),
          'engine-speed': (value, { t }) => value + (t > 7 && t < 9.6 ? 3 * Math.sin(20 * Math.PI * t) : 0),
        },
      }),
    );

  it('is no loss', () => {
    expect(falling(0.06, 0)).toEqual([]);
  });

  it('hides no cut', () => {
    expect(falling(0.06, 0.25).length).toBeGreaterThan(0);
    expect(falling(0, 0.15).length).toBeGreaterThan(0);
  });
});

describe('a line that explains a quarter of what moves in one channel alone', () => {
  /** Torque is cut for so long [s] before 9.6 s, with a swing of 12 Hz that others of changing rate hide. */
  const cutFor = (seconds: number) =>
    rhythmicLosses(
      inventedPull({
        ...{ rate: 50, without: ['lambda'] },
        change: {
          'brake-force': (value, { t }) => value * (1 - (t > 9.6 - seconds && t < 9.6 ? 0.15 : 0)),
          'engine-speed': (value, { t }) => {
            const since = t - 9.6 + seconds;
            const wanders = 1.3 * Math.sin(2 * Math.PI * (5 + 1.1 * since) * since);
            return since > 0 && t < 9.6 ? value + 0.95 * Math.sin(24 * Math.PI * t) + wanders : value;
          },
        },
      }),
    );

  it('counts over seconds, where chance shares little', () => {
    expect(cutFor(2.6).length).toBe(1);
  });

  it('does not in a shorter stretch', () => {
    expect(cutFor(1.5)).toEqual([]);
  });
});
