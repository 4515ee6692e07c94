import { describe, expect, test } from 'vitest';
import { type Claim, coverageOf, POWERS } from './testing/coverage.ts';
import { coverageClaims } from './testing/coverage-days.ts';

const DAYS = 12;

/**
 * Claims of one day share its instruments, so a day counts once: with n days the covered share scatters by √(0.95·0.05/n). Three
 * standard deviations below 95 % for so few days; the root mean square of error/u scatters by 1/√(2·n).
 */
const LEAST = 0.95 - 3 * Math.sqrt((0.95 * 0.05) / (2 * DAYS));
const MOST_SQUARE = 1 + 3 / Math.sqrt(2 * 2 * DAYS);
const LEAST_SQUARE = 1 - 3 / Math.sqrt(2 * 2 * DAYS);

const CLAIMS: readonly Claim[] = [
  ...coverageClaims('plateau', { from: 300, to: 300 + DAYS }),
  ...coverageClaims('simple', { from: 300, to: 300 + DAYS }),
];

describe.each(POWERS)('bands of %s power on days with drawn instruments', (power) => {
  const found = coverageOf(CLAIMS.filter((claim) => claim.power === power));

  test('are claimed on nearly every day', () => {
    expect(found.days).toBeGreaterThanOrEqual(power === 'engine' ? 10 : DAYS);
  });

  test('contain the truth as often as they say, as far as so few days can tell', () => {
    expect(found.covered).toBeGreaterThan(LEAST);
    expect(found.rootMeanSquare).toBeLessThan(MOST_SQUARE);
  });

  test('are not wider than they need to be', () => {
    expect(found.rootMeanSquare).toBeGreaterThan(LEAST_SQUARE);
  });
});

test('a band of half the width would be noticed', () => {
  const halved = coverageOf(CLAIMS.map((claim) => ({ ...claim, spread: claim.spread / 2 })));
  expect(halved.rootMeanSquare).toBeGreaterThan(MOST_SQUARE);
});
