import { describe, expect, it } from 'vitest';
import { usablePairs } from './missing.ts';
import { sampleSummary } from './moments.ts';
import { median, quantile } from './quantile.ts';
import { randomSource } from './random.ts';
import { hodgesLehmann, huberLocation, medianAbsoluteDeviation } from './robust.ts';

const GAP = Number.NaN;
const HOLED = [1, GAP, 3, 8];

describe('every reducing function follows the policy for missing samples', () => {
  const REDUCERS = {
    median,
    quantile: (samples: number[], missing: 'skip' | 'refuse' | 'propagate') =>
      quantile({ samples, probability: 0.5, missing }),
    medianAbsoluteDeviation,
    hodgesLehmann,
    huber: (samples: number[], missing: 'skip' | 'refuse' | 'propagate') =>
      huberLocation({ samples, missing }).location,
    mean: (samples: number[], missing: 'skip' | 'refuse' | 'propagate') => sampleSummary(samples, missing).mean,
  };

  it.each(Object.entries(REDUCERS))('%s', (_name, reduce) => {
    expect(reduce(HOLED, 'skip')).toBe(reduce([1, 3, 8], 'refuse'));
    expect(reduce(HOLED, 'propagate')).toBeNaN();
    expect(() => reduce(HOLED, 'refuse')).toThrow('missing sample at index 1');
    expect(reduce([GAP, GAP], 'skip')).toBeNaN();
    expect(reduce([], 'refuse')).toBeNaN();
  });

  it('pairs are dropped together', () => {
    expect(
      usablePairs(
        [
          [1, GAP, 3],
          [4, 5, GAP],
        ],
        'skip',
      )?.map((a) => [...a]),
    ).toEqual([[1], [4]]);
    expect(
      usablePairs(
        [
          [1, GAP],
          [4, 5],
        ],
        'propagate',
      ),
    ).toBeUndefined();
    expect(() => usablePairs([[1], [1, 2]], 'skip')).toThrow('unequal length');
  });
});

describe('quantiles of type 7', () => {
  it('lie between order statistics at (n − 1)·p (Hyndman & Fan 1996, definition 7)', () => {
    const samples = [15, 20, 35, 40, 50];
    expect(quantile({ samples, probability: 0.4, missing: 'refuse' })).toBeCloseTo(29, 12);
    expect(quantile({ samples, probability: 0, missing: 'refuse' })).toBe(15);
    expect(quantile({ samples, probability: 1, missing: 'refuse' })).toBe(50);
    expect(quantile({ samples: [7], probability: 0.9, missing: 'refuse' })).toBe(7);
    expect(() => quantile({ samples, probability: 1.1, missing: 'refuse' })).toThrow('invalid probability: 1.1');
  });

  it('do not sort their input', () => {
    const samples = Float64Array.of(3, 1, 2);
    expect(median(samples, 'refuse')).toBe(2);
    expect([...samples]).toEqual([3, 1, 2]);
  });
});

describe('robust location and scale', () => {
  const { normal } = randomSource(21);
  const clean = Array.from({ length: 500 }, () => 350 + 2 * normal());

  it('estimate what normal samples were drawn from', () => {
    const huber = huberLocation({ samples: clean, missing: 'refuse' });
    expect(huber.converged).toBe(true);
    expect(Math.abs(huber.location - 350)).toBeLessThan(0.3);
    expect(huber.scale / 2).toBeCloseTo(1, 0);
    expect(huber.standardUncertainty / (2 / Math.sqrt(500))).toBeCloseTo(1, 0);
    expect(Math.abs(hodgesLehmann(clean, 'refuse') - 350)).toBeLessThan(0.3);
  });

  it('stay when a tenth of the samples goes wild, where the mean does not', () => {
    const wild = clean.map((x, i) => (i % 10 === 0 ? x + 1000 : x));
    expect(Math.abs(huberLocation({ samples: wild, missing: 'refuse' }).location - 350)).toBeLessThan(1);
    expect(Math.abs(hodgesLehmann(wild, 'refuse') - 350)).toBeLessThan(1);
    expect(medianAbsoluteDeviation(wild, 'refuse')).toBeLessThan(3);
    expect(sampleSummary(wild, 'refuse').mean).toBeGreaterThan(440);
  });

  it('have no scale where more than half are equal: the median then, with uncertainty zero', () => {
    const found = huberLocation({ samples: [5, 5, 5, 9], missing: 'refuse' });
    expect(found).toEqual({ location: 5, scale: 0, standardUncertainty: 0, converged: true });
  });
});

describe('mean and deviation', () => {
  it('keep their digits under a large common level', () => {
    const found = sampleSummary([1e9 + 1, 1e9 + 2, 1e9 + 3], 'refuse');
    expect(found).toEqual({ count: 3, mean: 1e9 + 2, deviation: 1 });
    expect(sampleSummary([4], 'refuse')).toEqual({ count: 1, mean: 4, deviation: GAP });
  });
});

describe('the random source', () => {
  it('repeats itself for a seed, and differs for another', () => {
    const draw = (seed: number) => Array.from({ length: 5 }, randomSource(seed).uniform);
    expect(draw(1)).toEqual(draw(1));
    expect(draw(1)).not.toEqual(draw(2));
  });

  it('is uniform and normal in its moments (fixed seed)', () => {
    const { uniform, normal, integer } = randomSource(99);
    const u = sampleSummary(Array.from({ length: 40000 }, uniform), 'refuse');
    expect(u.mean).toBeCloseTo(0.5, 2);
    expect(u.deviation).toBeCloseTo(Math.sqrt(1 / 12), 2);
    const z = sampleSummary(Array.from({ length: 40000 }, normal), 'refuse');
    expect(Math.abs(z.mean)).toBeLessThan(0.02);
    expect(z.deviation).toBeCloseTo(1, 1);
    const counts = [0, 0, 0];
    for (let i = 0; i < 3000; i++) counts[integer(3)]++;
    expect(Math.min(...counts)).toBeGreaterThan(900);
  });
});
