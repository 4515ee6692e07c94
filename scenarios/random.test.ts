import { describe, expect, it } from 'vitest';
import { chanceOf } from './random.ts';

const moments = (values: readonly number[]): { mean: number; spread: number } => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return { mean, spread: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length) };
};

describe('the stream of chance', () => {
  it('repeats with the same seed and purpose, and differs with another of either', () => {
    const start = (seed: number, purpose: string): number => chanceOf(seed, purpose).uniform();
    expect(start(1, 'a')).toBe(start(1, 'a'));
    expect(start(1, 'a')).not.toBe(start(2, 'a'));
    expect(start(1, 'a')).not.toBe(start(1, 'b'));
  });

  it('is standard normal within a stream: 20000 values, limits five standard errors', () => {
    const chance = chanceOf(1, 'normal');
    const { mean, spread } = moments(Array.from({ length: 20_000 }, () => chance.normal()));
    expect(Math.abs(mean)).toBeLessThan(5 / Math.sqrt(20_000));
    expect(Math.abs(spread - 1)).toBeLessThan(5 / Math.sqrt(40_000));
  });

  it('is standard normal across seeds, so that drawn instruments are what they say: 4000 days', () => {
    const { mean, spread } = moments(Array.from({ length: 4000 }, (_, seed) => chanceOf(seed, 'instruments').normal()));
    expect(Math.abs(mean)).toBeLessThan(5 / Math.sqrt(4000));
    expect(Math.abs(spread - 1)).toBeLessThan(5 / Math.sqrt(8000));
  });

  it('keeps neighbours apart: correlation of successive values and of successive seeds is small', () => {
    const chance = chanceOf(3, 'pairs');
    const values = Array.from({ length: 10_000 }, () => chance.uniform() - 0.5);
    const lag = values.slice(1).reduce((sum, value, k) => sum + value * (values[k] ?? 0), 0) / values.length;
    const starts = Array.from({ length: 10_000 }, (_, seed) => chanceOf(seed, 'x').uniform() - 0.5);
    const across = starts.slice(1).reduce((sum, value, k) => sum + value * (starts[k] ?? 0), 0) / starts.length;
    expect(Math.abs(lag) * 12).toBeLessThan(0.05);
    expect(Math.abs(across) * 12).toBeLessThan(0.05);
  });
});
