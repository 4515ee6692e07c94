import { describe, expect, it } from 'vitest';
import { inventedPull } from '../testing/invented-pull.ts';
import { limitsWith } from '../thresholds.ts';
import { coilSupply } from './coil.ts';

const last = (values: Float64Array | undefined): number => values?.[values.length - 30] ?? Number.NaN;
const later =
  (from: number, to: number) =>
  (_: number, { t }: { t: number }) =>
    t < 2 ? from : to;

describe('what the coils can store', () => {
  it('goes with the square of the voltage: 12.51 of 13.9 V leave 81 %', () => {
    const found = coilSupply(inventedPull({ change: { 'battery-voltage': later(13.9, 12.51) } }), limitsWith());
    expect(last(found?.energy)).toBeCloseTo(0.81, 9);
    expect(found?.by).toEqual(['battery-voltage', 'dwell']);
  });

  it('and with dwell as an inductance charges: 2 instead of 3 ms with 2.5 mH and 0.45 Ω leave 52.5 %', () => {
    const change = { 'battery-voltage': () => 13.9, dwell: later(3e-3, 2e-3) };
    // ((1 − e^(−0.36))/(1 − e^(−0.54)))² = (0.302324/0.417252)² = 0.524986, by hand
    expect(last(coilSupply(inventedPull({ change }), limitsWith())?.energy)).toBeCloseTo(0.524986, 5);
  });
});
