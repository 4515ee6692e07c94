import { describe, expect, it } from 'vitest';
import { designOf, linearFit } from '../fits/linear-fit.ts';
import { randomSource } from '../statistics/random.ts';
import { type LocalQuadraticInput, localQuadratic } from './local-polynomial.ts';
import { kernelHalfWidth } from './smoothing-kernel.ts';

const grid = (n: number, rate: number): Float64Array => Float64Array.from({ length: n }, (_, i) => i / rate);
const whole = (times: Float64Array) => [{ from: 0, to: times.length }];

function irregular(n: number, seed: number): Float64Array {
  const { uniform } = randomSource(seed);
  let t = 0;
  return Float64Array.from({ length: n }, () => {
    t += 0.005 + 0.01 * uniform();
    return t;
  });
}

describe('the local quadratic at the borders', () => {
  it('has no answer for an empty record, for three samples and where all are missing', () => {
    const none = localQuadratic({ times: new Float64Array(0), samples: new Float64Array(0), pieces: [], bandwidth: 5 });
    expect(none.value).toHaveLength(0);
    const times = grid(3, 100);
    expect(
      localQuadratic({ times, samples: times, pieces: whole(times), bandwidth: 5 }).value.every(Number.isNaN),
    ).toBe(true);
    const more = grid(50, 100);
    const nan = new Float64Array(50).fill(Number.NaN);
    const lost = localQuadratic({ times: more, samples: nan, pieces: whole(more), bandwidth: 5 });
    expect(lost.slope.every(Number.isNaN)).toBe(true);
    expect(lost.slopeGain.every(Number.isNaN)).toBe(true);
  });

  it('answers with four samples under the kernel and not with three', () => {
    const times = grid(4, 100);
    const pieces = whole(times);
    const found = localQuadratic({ times, samples: times, pieces, bandwidth: 5 });
    expect(found.value.every(Number.isFinite)).toBe(true);
    const holed = times.slice();
    holed[2] = Number.NaN;
    expect(localQuadratic({ times, samples: holed, pieces, bandwidth: 5 }).value.every(Number.isNaN)).toBe(true);
  });

  it('never looks across the border of a piece', () => {
    const times = grid(200, 100);
    const step = times.map((t) => (t < 1 ? 0 : 1000));
    const pieces = [
      { from: 0, to: 100 },
      { from: 100, to: 200 },
    ];
    const { value, slope } = localQuadratic({ times, samples: step, pieces, bandwidth: 5 });
    for (let i = 0; i < 200; i++) {
      expect(value[i]).toBeCloseTo(i < 100 ? 0 : 1000, 9);
      expect(slope[i]).toBeCloseTo(0, 7);
    }
    const between = localQuadratic({ times, samples: step, pieces, bandwidth: 5, at: Float64Array.of(0.995, -1, 5) });
    expect(between.value.every(Number.isNaN)).toBe(true);
  });

  it('does not extrapolate beyond the last usable sample, and knows nothing inside a long run of missing ones', () => {
    const times = grid(300, 100);
    const samples = times.slice().fill(Number.NaN, 280).fill(Number.NaN, 100, 160);
    const { value } = localQuadratic({ times, samples, pieces: whole(times), bandwidth: 5 });
    expect(value[279]).toBeCloseTo(2.79, 12);
    expect(value[280]).toBeNaN();
    expect(value[130]).toBeNaN();
    expect(value[100]).toBeNaN();
    expect(value[99]).toBeCloseTo(0.99, 12);
  });

  it('does not change its input and gives at explicit times what it gives at the samples', () => {
    const times = irregular(200, 1);
    const samples = times.map((t) => Math.sin(9 * t));
    const kept = samples.slice();
    const input: LocalQuadraticInput = { times, samples, pieces: whole(times), bandwidth: 6 };
    const plain = localQuadratic(input);
    const explicit = localQuadratic({ ...input, at: times.toReversed() });
    for (let i = 0; i < 200; i++) {
      expect(explicit.value[199 - i]).toBeCloseTo(plain.value[i], 12);
      expect(explicit.slopeGain[199 - i]).toBeCloseTo(plain.slopeGain[i], 9);
    }
    expect(samples).toEqual(kept);
  });
});

describe('the local quadratic', () => {
  it('keeps a parabola and its slope exactly on irregular times, borders and high level included', () => {
    const times = irregular(300, 2);
    const samples = times.map((t) => 1e6 + 40 * t - 7 * t * t);
    const { value, slope } = localQuadratic({ times, samples, pieces: whole(times), bandwidth: 4 });
    for (let i = 0; i < 300; i++) {
      expect(value[i] - samples[i]).toBeCloseTo(0, 7);
      expect(slope[i]).toBeCloseTo(40 - 14 * times[i], 6);
    }
  });

  it('equals weighted least squares written out (twin)', () => {
    const times = irregular(120, 3);
    const { normal } = randomSource(4);
    const samples = times.map(() => normal());
    samples[57] = Number.NaN;
    const bandwidth = 5;
    const h = kernelHalfWidth(bandwidth);
    const { value, slope, valueGain, slopeGain } = localQuadratic({ times, samples, pieces: whole(times), bandwidth });
    for (const i of [0, 3, 50, 58, 119]) {
      const near = [...times.keys()].filter((k) => Math.abs(times[k] - times[i]) < h && !Number.isNaN(samples[k]));
      const x = near.map((k) => times[k] - times[i]);
      const design = designOf([x.map(() => 1), x, x.map((d) => d * d)]);
      const weights = x.map((d) => (1 - Math.abs(d / h) ** 3) ** 3);
      const at = (response: number[]) => linearFit({ design, response, weights }).coefficients;
      const fitted = at(near.map((k) => samples[k]));
      expect(value[i]).toBeCloseTo(fitted[0], 10);
      expect(slope[i]).toBeCloseTo(fitted[1], 8);
      const units = near.map((_, j) => at(near.map((_, k) => Number(k === j))));
      expect(valueGain[i]).toBeCloseTo(Math.hypot(...units.map((c) => c[0])), 10);
      expect(slopeGain[i]).toBeCloseTo(Math.hypot(...units.map((c) => c[1])), 8);
    }
  });

  it.each([
    { rate: 100, bandwidth: 2 },
    { rate: 100, bandwidth: 5 },
    { rate: 100, bandwidth: 12 },
    { rate: 100, bandwidth: 14 },
    { rate: 1000, bandwidth: 10 },
    { rate: 20, bandwidth: 1.5 },
  ])('lowers a sine of its bandwidth by 3.01 ± 0.05 dB: $bandwidth Hz at $rate Hz', ({ rate, bandwidth }) => {
    const times = grid(1200, rate);
    const gainAt = (frequency: number): number => {
      const sine = (phase: number) => times.map((t) => Math.sin(2 * Math.PI * frequency * t + phase));
      const at = Float64Array.of(times[600]);
      const part = (phase: number) =>
        localQuadratic({ times, samples: sine(phase), pieces: whole(times), bandwidth, at }).value[0];
      return Math.hypot(part(0), part(Math.PI / 2));
    };
    expect(20 * Math.log10(gainAt(bandwidth))).toBeGreaterThan(-3.06);
    expect(20 * Math.log10(gainAt(bandwidth))).toBeLessThan(-2.96);
    expect(gainAt(bandwidth / 4)).toBeGreaterThan(0.99);
    expect(gainAt(bandwidth * 2)).toBeLessThan(0.16);
  });

  it('states the spread that white noise really has (simulation, fixed seed)', () => {
    const times = irregular(60, 5);
    const { normal } = randomSource(6);
    const at = Float64Array.of(times[30], times[0]);
    const sums = { value: [0, 0], slope: [0, 0] };
    let gains = { value: [0, 0], slope: [0, 0] };
    const runs = 4000;
    for (let run = 0; run < runs; run++) {
      const found = localQuadratic({
        times,
        samples: times.map(() => normal()),
        pieces: whole(times),
        bandwidth: 6,
        at,
      });
      for (const k of [0, 1]) {
        sums.value[k] += found.value[k] ** 2 / runs;
        sums.slope[k] += found.slope[k] ** 2 / runs;
      }
      gains = { value: [...found.valueGain], slope: [...found.slopeGain] };
    }
    for (const k of [0, 1]) {
      expect(Math.sqrt(sums.value[k]) / gains.value[k]).toBeCloseTo(1, 1);
      expect(Math.sqrt(sums.slope[k]) / gains.slope[k]).toBeCloseTo(1, 1);
    }
  });
});
