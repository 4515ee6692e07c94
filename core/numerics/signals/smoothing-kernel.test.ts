import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { localQuadratic } from './local-polynomial.ts';
import { HALF_WIDTH_TIMES_BANDWIDTH, kernelHalfWidth, peakBias, smoothingGain } from './smoothing-kernel.ts';

const reference = JSON.parse(readFileSync(join(import.meta.dirname, '../reference/scipy.json'), 'utf8'));

/** Largest fall of a smoothed peak in a record of 2 kHz, relative to the peak. */
function bruteForceFall(shape: (t: number) => number, bandwidth: number): number {
  const times = Float64Array.from({ length: 4001 }, (_, i) => (i - 2000) / 2000);
  const pieces = [{ from: 0, to: times.length }];
  const { value } = localQuadratic({ times, samples: times.map(shape), pieces, bandwidth, at: Float64Array.of(0) });
  return 1 - value[0] / shape(0);
}

describe('the smoothing kernel', () => {
  it('passes 1/√2 at its bandwidth', () => {
    expect(smoothingGain(5, 5)).toBeCloseTo(Math.SQRT1_2, 10);
    expect(kernelHalfWidth(2)).toBeCloseTo(HALF_WIDTH_TIMES_BANDWIDTH / 2, 15);
    expect(() => kernelHalfWidth(0)).toThrow('invalid bandwidth: 0 Hz');
  });

  it('agrees with the transfer function integrated by scipy 1.17.1 (computed reference)', () => {
    for (const [product, gain] of reference.smoothingGain) {
      expect(smoothingGain(product / HALF_WIDTH_TIMES_BANDWIDTH, 1)).toBeCloseTo(gain, 9);
    }
  });

  it.each([3, 5, 10])('predicts how far a bell is lowered at %i Hz, as brute force finds it', (bandwidth) => {
    const width = 0.1;
    const bell = (t: number) => 300 * Math.exp(-(t * t) / (2 * width * width));
    const share = peakBias({ peakValue: 300, curvature: -300 / width ** 2, bandwidth });
    expect(share).toBeGreaterThan(1e-5);
    expect(share / bruteForceFall(bell, bandwidth)).toBeCloseTo(1, 3);
  });

  it('leaves a parabola whole and lowers a sine crest by about a third of a bell', () => {
    expect(Math.abs(bruteForceFall((t) => 300 - 4000 * t * t, 5))).toBeLessThan(1e-12);
    const omega = 2 * Math.PI * 2;
    const bell = peakBias({ peakValue: 1, curvature: -(omega ** 2), bandwidth: 60 });
    expect(bruteForceFall((t) => Math.cos(omega * t), 60) / bell).toBeCloseTo(1 / 3, 2);
  });

  it('has no bias for a flat top and no answer without a peak', () => {
    expect(peakBias({ peakValue: 10, curvature: 0, bandwidth: 5 })).toBeCloseTo(0, 12);
    expect(peakBias({ peakValue: 10, curvature: 1, bandwidth: 5 })).toBeNaN();
    expect(peakBias({ peakValue: 0, curvature: -1, bandwidth: 5 })).toBeNaN();
  });
});
