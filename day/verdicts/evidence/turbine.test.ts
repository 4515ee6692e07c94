import { describe, expect, it } from 'vitest';
import { inventedPull } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import { expectedTurbo } from './turbine.ts';

/** A pull that holds a pressure in air of a temperature, both without noise. */
const held = (pressure: number, ambient: number) => ({
  change: { 'manifold-pressure': () => pressure, 'ambient-temperature': () => ambient },
});

describe('turbo speed that air and pressure alone would have', () => {
  it('goes with the root of the work: 1 % more pressure in air 9 K warmer asks for 2.32 % more speed', () => {
    // √((2.02e5/101325)^(0.4/1.4) − 1)/((2e5/101325)^(0.4/1.4) − 1)·306/297) = √(1.016124·1.030303) = 1.023189, by hand
    const scene = inventedPull({ ...held(202e3, 306), references: [held(200e3, 297)] });
    expect(expectedTurbo(scene, limitsWith(), [])).toBeCloseTo(1.023189, 5);
  });

  it('is the same where pressure and air are, and where nothing is known', () => {
    expect(
      expectedTurbo(inventedPull({ ...held(2e5, 297), references: [held(2e5, 297)] }), limitsWith(), []),
    ).toBeCloseTo(1, 12);
    expect(expectedTurbo(inventedPull(held(2e5, 297)), limitsWith(), [])).toBe(1);
  });
});
