import { describe, expect, it } from 'vitest';
import { quadrature, trapezoid } from '../calculus/integrate.ts';
import { bracketedRoot } from '../calculus/roots.ts';
import { indexAtOrAfter, indexAtOrBefore, pieceFinder } from './piece.ts';
import { resample } from './resample.ts';

const times = Float64Array.of(0, 1, 2, 10, 11, 12, 13);
const samples = Float64Array.of(0, 10, 20, 100, Number.NaN, 120, 130);
const pieces = [
  { from: 0, to: 3 },
  { from: 3, to: 7 },
];

describe('resampling', () => {
  it.each([
    { t: -0.1, wanted: Number.NaN, why: 'before the first sample' },
    { t: 0, wanted: 0, why: 'on the first sample' },
    { t: 1.25, wanted: 12.5, why: 'between two' },
    { t: 2, wanted: 20, why: 'on the last of a piece' },
    { t: 2.001, wanted: Number.NaN, why: 'in the gap' },
    { t: 9.999, wanted: Number.NaN, why: 'just before the next piece' },
    { t: 10, wanted: 100, why: 'on a sample whose neighbour is missing' },
    { t: 10.5, wanted: Number.NaN, why: 'beside a missing sample' },
    { t: 11, wanted: Number.NaN, why: 'on a missing sample' },
    { t: 12.5, wanted: 125, why: 'after it' },
    { t: 13.1, wanted: Number.NaN, why: 'after the end' },
    { t: Number.NaN, wanted: Number.NaN, why: 'at no time' },
  ])('at $t ($why) gives $wanted', ({ t, wanted }) => {
    expect([...resample({ times, samples, pieces, at: Float64Array.of(t) })]).toEqual([wanted]);
  });

  it('takes wanted times in any order and leaves its input alone', () => {
    const kept = samples.slice();
    const found = resample({ times, samples, pieces, at: Float64Array.of(12.5, 1.25, 5, 0.5) });
    expect([...found]).toEqual([125, 12.5, Number.NaN, 5]);
    expect(samples).toEqual(kept);
  });

  it('has nothing to say without pieces', () => {
    const none = new Float64Array(0);
    expect([...resample({ times: none, samples: none, pieces: [], at: Float64Array.of(1) })]).toEqual([Number.NaN]);
  });
});

describe('pieces', () => {
  it('finds the index at or before a time, and the piece', () => {
    expect(indexAtOrBefore(times, pieces[0], -1)).toBe(-1);
    expect(indexAtOrBefore(times, pieces[1], 10)).toBe(3);
    expect(indexAtOrBefore(times, pieces[1], 99)).toBe(6);
    expect(indexAtOrAfter(times, pieces[0], -1)).toBe(0);
    expect(indexAtOrAfter(times, pieces[1], times[4])).toBe(4);
    expect(indexAtOrAfter(times, pieces[1], 99)).toBe(7);
    expect(indexAtOrAfter(times, { from: 2, to: 2 }, 0)).toBe(2);
    expect(pieceFinder(times, pieces)(5)).toBeUndefined();
    expect(pieceFinder(times, pieces)(12)).toBe(pieces[1]);
    expect(pieceFinder(times, [{ from: 2, to: 2 }])(2)).toBeUndefined();
  });
});

it('where the clock jumped back, the earlier piece of the list answers', () => {
  const jumped = Float64Array.of(5, 10, 15, 0, 5, 10);
  const both = [
    { from: 0, to: 3 },
    { from: 3, to: 6 },
  ];
  const at = Float64Array.of(3, 7, 12);
  const found = resample({ times: jumped, samples: Float64Array.of(1, 1, 1, 2, 2, 2), pieces: both, at });
  expect([...found]).toEqual([2, 1, 1]);
});

describe('integrals', () => {
  it('cross no gap and no missing sample, and say how much time they cover', () => {
    expect(trapezoid({ times, samples, pieces })).toEqual({ integral: 20 + 125, covered: 3 });
    const nan = samples.map(() => Number.NaN);
    expect(trapezoid({ times, samples: nan, pieces })).toEqual({ integral: Number.NaN, covered: 0 });
  });

  it('of smooth functions come out to ten digits', () => {
    expect(quadrature(Math.sin, { from: 0, to: Math.PI })).toBeCloseTo(2, 10);
    expect(quadrature((x) => Math.exp(-x * x), { from: -8, to: 8 })).toBeCloseTo(Math.sqrt(Math.PI), 9);
    expect(quadrature((x) => Math.exp(-((x - 0.3) ** 2) / 1e-4), { from: 0, to: 1 })).toBeCloseTo(
      Math.sqrt(Math.PI * 1e-4),
      9,
    );
    expect(quadrature(Math.cos, { from: 1, to: 1 })).toBe(0);
    expect(quadrature(Math.cos, { from: 1, to: 0 })).toBeCloseTo(-Math.sin(1), 10);
  });
});

describe('roots', () => {
  it('are found to the working precision inside the bracket', () => {
    expect(bracketedRoot((x) => x ** 3 - 2, { lower: 0, upper: 2 })).toBeCloseTo(Math.cbrt(2), 11);
    expect(bracketedRoot((x) => Math.log(x), { lower: 0, upper: 5 })).toBeCloseTo(1, 11);
    expect(bracketedRoot((x) => x - 1, { lower: 1, upper: 2 })).toBe(1);
  });

  it('do not exist without a change of sign', () => {
    expect(bracketedRoot((x) => x * x + 1, { lower: -1, upper: 1 })).toBeNaN();
  });
});
