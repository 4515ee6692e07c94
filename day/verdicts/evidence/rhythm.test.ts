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
