import { describe, expect, it } from 'vitest';
import { inventedPull } from '../testing/invented-pull.ts';
import { compressorFails, compressorLack } from './compressor.ts';

/** A pull with a pressure behind the compressor, 84 kPa before it, and a wheel speed. */
const pull = (boost: number, wheel: number, manifold = 200e3) => ({
  change: {
    'boost-pressure': () => boost,
    'compressor-inlet-pressure': () => 84e3,
    'turbo-speed': () => wheel,
    'manifold-pressure': () => manifold,
    'manifold-target': () => 200e3,
  },
});

describe('what a compressor lacks against other pulls', () => {
  it('turns faster than its pressure asks for: 180 instead of 210 kPa at equal speed leave 10.91 % of slack', () => {
    // 1/√(((180/84)^(0.4/1.4) − 1)/((210/84)^(0.4/1.4) − 1)) − 1 = 0.109104, by hand
    const found = compressorLack(inventedPull({ ...pull(180e3, 1e4), references: [pull(210e3, 1e4)] }));
    expect(found?.slack).toBeCloseTo(0.109104, 5);
    expect(found?.slackBelow).toBeCloseTo(0.109104, 5);
    const faster = compressorLack(inventedPull({ ...pull(180e3, 1.03e4), references: [pull(210e3, 1e4)] }));
    expect(faster?.slack).toBeCloseTo(0.142377, 5);
  });

  it('is short by what misses of the pressure that was asked for: 190 of 200 kPa, one twentieth', () => {
    const found = compressorLack(inventedPull({ ...pull(210e3, 1e4, 190e3), references: [pull(210e3, 1e4)] }));
    expect(found?.short).toBeCloseTo(0.05, 12);
    expect(found?.slack).toBeCloseTo(0, 12);
  });

  it('is the compressor’s own where its wheel turns nearly as fast as usual, and the turbine’s where it does not', () => {
    const lackAt = (boost: number, wheel: number) =>
      compressorLack(inventedPull({ ...pull(boost, wheel), references: [pull(210e3, 1e4)] }));
    const [choked, driven] = [lackAt(180e3, 0.98e4), lackAt(140e3, 0.8e4)];
    expect([choked?.slack, driven?.slack].every((slack) => slack !== undefined && slack > 0.05)).toBe(true);
    expect(choked && compressorFails(choked, 0.02)).toBe(true);
    expect(driven && compressorFails(driven, 0.02)).toBe(false);
  });
});
