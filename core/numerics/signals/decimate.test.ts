import { describe, expect, it } from 'vitest';
import { randomSource } from '../statistics/random.ts';
import { decimator } from './decimate.ts';

function kept(samples: Float64Array, factor: number, parts = [samples.length]): Float64Array {
  const thin = decimator({ factor, expected: samples.length });
  let at = 0;
  for (const part of parts) {
    thin.push(samples.subarray(at, at + part));
    at += part;
  }
  return thin.end();
}

const tone = (frequency: number, length: number): Float64Array =>
  Float64Array.from({ length }, (_, i) => Math.sin(2 * Math.PI * frequency * i));

describe('keeping one sample of many', () => {
  it('keeps none of none and refuses a factor that is no whole number', () => {
    expect(kept(new Float64Array(0), 4)).toHaveLength(0);
    expect(() => decimator({ factor: 1.5, expected: 1 })).toThrow('1.5');
    expect(() => decimator({ factor: 0, expected: 1 })).toThrow('0');
  });
  it('hands on all samples unchanged with factor 1', () => {
    expect([...kept(Float64Array.of(1, -2, 3), 1)]).toEqual([1, -2, 3]);
  });
  it.each([2, 5, 8])('moves nothing in time and leaves a slow tone as it is: %i', (factor) => {
    const thin = kept(tone(0.39 / factor, 400 * factor), factor);
    expect(thin).toHaveLength(400);
    for (let k = 20; k < 380; k++) expect(thin[k]).toBeCloseTo(Math.sin(2 * Math.PI * 0.39 * k), 2);
  });
  it('takes away by 70 dB what would fold into the lowest 0.4 of the new rate', () => {
    const thin = kept(tone(0.6 / 8, 4000), 8);
    const most = thin.subarray(20, 480).reduce((top, value) => Math.max(top, Math.abs(value)), 0);
    expect(20 * Math.log10(most)).toBeLessThan(-69);
  });
  it('does not depend on how the samples arrive', () => {
    const { normal } = randomSource(1);
    const samples = Float64Array.from({ length: 1000 }, normal);
    expect([...kept(samples, 7, [1, 0, 2, 500, 497])]).toEqual([...kept(samples, 7)]);
  });
});
