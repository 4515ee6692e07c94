import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../core/numerics/index.ts';
import { toneAt, tonesOf } from './tone.ts';

const SOUGHT = { low: 0.5, high: 5.5, cycles: 3, shortest: 1.2 };

function series(rate: number, value: (t: number) => number, noise = 0) {
  const random = randomSource(5);
  const times = Float64Array.from({ length: 8 * rate }, (_, k) => k / rate);
  return { times, values: times.map((t) => value(t) + noise * random.normal()) };
}

describe('a lasting swing', () => {
  it.each([15, 25, 100])('is found with its size and frequency at %d Hz', (rate) => {
    const [surest] = tonesOf(
      series(rate, (t) => 5 * t + (t > 2 && t < 6 ? 3 * Math.sin(4 * Math.PI * t) : 0), 1),
      SOUGHT,
    );
    expect(surest.hertz).toBeCloseTo(2, 0);
    expect(surest.amplitude).toBeGreaterThan(2.4);
    expect(surest.amplitude).toBeLessThan(3.6);
    expect(surest.amplitude / surest.deviation).toBeGreaterThan(7);
    expect(surest.from).toBeGreaterThan(1.2);
    expect(surest.to).toBeLessThan(6.8);
  });

  it('is no single hump', () => {
    const hump = series(50, (t) => 5 * Math.exp(-(((t - 4) / 0.2) ** 2)));
    expect(tonesOf(hump, SOUGHT).filter(({ amplitude, share }) => amplitude > 2 && share > 0.4)).toEqual([]);
  });

  it('is not found in noise', () => {
    const found = tonesOf(
      series(50, () => 0, 1),
      SOUGHT,
    );
    expect(found.every(({ amplitude, deviation }) => amplitude < 6 * deviation)).toBe(true);
  });

  it('is not found across a gap, and not at half the rate or above', () => {
    const { times, values } = series(20, (t) => Math.sin(4 * Math.PI * t));
    expect(tonesOf({ times, values: values.fill(Number.NaN) }, SOUGHT)).toEqual([]);
    expect(
      tonesOf({ times, values: times.map((t) => Math.sin(2 * Math.PI * 9 * t)) }, { ...SOUGHT, low: 9, high: 21 }),
    ).toEqual([]);
  });

  it.each([13, 15, 21])('keeps its height where its %d Hz lie between those looked at', (hertz) => {
    const steady = series(100, (t) => 3 * Math.sin(2 * Math.PI * hertz * t));
    const [surest] = tonesOf(steady, { low: 5, high: 30, cycles: 4, shortest: 0.6 });
    expect(Math.abs(surest.hertz - hertz)).toBeLessThan(0.4);
    expect(surest.amplitude).toBeGreaterThan(0.93 * 3);
  });

  it('can be asked for at one frequency', () => {
    const found = toneAt(
      series(50, (t) => 2 * Math.sin(6 * Math.PI * t)),
      { hertz: 3, from: 2, to: 4 },
    );
    expect(found?.amplitude).toBeCloseTo(2, 1);
  });
});

describe('between the frequencies that are looked at', () => {
  it.each(Array.from({ length: 24 }, (_, k) => 7 + 0.5 * k))('%d Hz keeps its height', (hertz) => {
    const times = Float64Array.from({ length: 400 }, (_, i) => i / 100);
    const values = times.map((t) => 1e3 * Math.sin(2 * Math.PI * hertz * t));
    const [surest] = tonesOf({ times, values }, { low: 4.5, high: 21, cycles: 5, shortest: 0.6 });
    expect(surest.amplitude).toBeGreaterThan(930);
  });
});
