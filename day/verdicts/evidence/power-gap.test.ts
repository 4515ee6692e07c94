import { describe, expect, it } from 'vitest';
import { type Invented, inventedPull } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import { gapTo, powerTrend } from './power-gap.ts';

const pull = (pressure: number, charge: number, power = 1): Invented => ({
  change: { 'manifold-pressure': () => pressure, 'charge-temperature': () => charge },
  power: () => power,
});

describe('power against other pulls', () => {
  it('allows 0.45 % per kilopascal near 200 kPa and 0.33 % per kelvin of charge', () => {
    const scene = inventedPull({ ...pull(204e3, 320), references: [pull(200e3, 310)] });
    // expected (1 + 4.5e-6·4000)·(1 − 0.0033·10) = 1.018·0.967 = 0.984406 of the other's power; the same power is 1.584 % more, by hand
    expect(gapTo(scene, scene.references, limitsWith())?.whole).toBeCloseTo(0.015841, 5);
    // at half the pressure a kilopascal is worth twice as much: (1 + 9e-6·2000) = 1.018
    const low = inventedPull({ ...pull(102e3, 310), references: [pull(100e3, 310)] });
    expect(gapTo(low, low.references, limitsWith())?.whole).toBeCloseTo(1 / 1.018 - 1, 5);
  });

  it('sums what is lost in standard deviations with half of one as slack: 2 % of 0.7 % a pull make 2.36 each', () => {
    const scene = inventedPull({
      ...pull(200e3, 310, 0.98),
      references: [pull(200e3, 310, 0.98), pull(200e3, 310), pull(200e3, 310)],
    });
    const found = powerTrend(scene, limitsWith());
    expect(found?.deficits.map((one) => Number(one.toFixed(6)))).toEqual([0.02, 0.02]);
    expect(found?.cumulative).toBeCloseTo(2 * (0.02 / 0.007 - 0.5), 6);
  });
});
