import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { powerSpectrum } from './spectrum.ts';

const reference = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/scipy.json'), 'utf8'));

describe('the power spectrum', () => {
  it('has no density without a whole segment', () => {
    const { density, segments } = powerSpectrum({ samples: new Float64Array(10), rate: 1, segment: 16 });
    expect(segments).toBe(0);
    expect(density.every(Number.isNaN)).toBe(true);
  });

  it('leaves out a segment with a missing sample', () => {
    const samples = Float64Array.from({ length: 64 }, (_, i) => Math.sin(i));
    samples[40] = Number.NaN;
    expect(powerSpectrum({ samples, rate: 1, segment: 16, overlap: 0 }).segments).toBe(3);
  });

  it('agrees with scipy 1.17.1 signal.welch (computed reference)', () => {
    const { samples, rate, segment, density } = reference.welch;
    const found = powerSpectrum({ samples: Float64Array.from(samples), rate, segment });
    for (let k = 0; k < density.length; k++) expect(found.density[k] / density[k]).toBeCloseTo(1, 10);
  });

  it('holds the variance of a sine: amplitude²/2', () => {
    const samples = Float64Array.from({ length: 4096 }, (_, i) => 3 * Math.sin((2 * Math.PI * i * 20) / 256));
    const { density } = powerSpectrum({ samples, rate: 100, segment: 256 });
    const variance = density.reduce((sum, s) => sum + s, 0) * (100 / 256);
    expect(variance).toBeCloseTo(4.5, 9);
  });
});
