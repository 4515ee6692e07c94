import { describe, expect, it } from 'vitest';
import { randomSource } from '../statistics/random.ts';
import { fourierPlan, fourierTransformInto, inverseFourierTransformInto, realFourierTransform } from './fft.ts';

describe('the Fourier transform', () => {
  it('refuses a size that is no power of two', () => {
    expect(() => fourierPlan(0)).toThrow('no power of two: 0');
    expect(() => fourierPlan(12)).toThrow('no power of two: 12');
  });

  it('refuses a missing sample and says where', () => {
    expect(() => realFourierTransform([1, Number.NaN])).toThrow('index 1');
  });

  it('leaves one sample as it is', () => {
    expect(realFourierTransform([3])).toEqual({ re: Float64Array.of(3), im: Float64Array.of(0) });
  });

  it('agrees with the plain sum on random input (twin)', () => {
    const { normal } = randomSource(7);
    const n = 64;
    const x = Array.from({ length: n }, normal);
    const { re, im } = realFourierTransform(x);
    for (let k = 0; k <= n / 2; k++) {
      const wanted = x.reduce(
        (sum, value, i) => ({
          re: sum.re + value * Math.cos((2 * Math.PI * i * k) / n),
          im: sum.im - value * Math.sin((2 * Math.PI * i * k) / n),
        }),
        { re: 0, im: 0 },
      );
      expect(re[k]).toBeCloseTo(wanted.re, 11);
      expect(im[k]).toBeCloseTo(wanted.im, 11);
    }
  });

  it('comes back through its inverse', () => {
    const { normal } = randomSource(8);
    const re = Float64Array.from({ length: 1024 }, normal);
    const data = { re: re.slice(), im: new Float64Array(1024) };
    const plan = fourierPlan(1024);
    fourierTransformInto(data, plan);
    inverseFourierTransformInto(data, plan);
    for (let i = 0; i < 1024; i++) expect(data.re[i]).toBeCloseTo(re[i], 12);
  });
});
