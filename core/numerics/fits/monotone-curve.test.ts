import { describe, expect, it } from 'vitest';
import { curveValue, monotoneCurve } from './monotone-curve.ts';

const of = (x: readonly number[], y: readonly number[]) => monotoneCurve(Float64Array.from(x), Float64Array.from(y));

/** A steep rise between two flat parts, with its values in between by scipy 1.17.1, `PchipInterpolator`. */
const STEEP = {
  x: [7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20],
  y: [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.94374, 0.998636, 0.999919, 0.999994],
} as const;

describe('curve that keeps rising data rising', () => {
  it('one point, unequal lengths and places that do not rise are refused', () => {
    expect(() => of([1], [1])).toThrow('at least two points');
    expect(() => of([1, 2], [1])).toThrow('equal lengths: 2, 1');
    expect(() => of([1, 2, 2], [1, 2, 3])).toThrow('does not rise at index 2');
    expect(() => of([1, Number.NaN], [1, 2])).toThrow('does not rise at index 1');
  });

  it('two points are joined by a straight line, and nothing is said beyond them', () => {
    const line = of([1, 3], [10, 20]);
    expect([1, 1.5, 3].map((x) => curveValue(line, x))).toEqual([10, 12.5, 20]);
    expect([0.999, 3.001, Number.NaN].map((x) => curveValue(line, x))).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  });

  it.each([
    [8, 2.767433863187248e-7],
    [8.14, 0.017697167375919493],
    [8.5, 0.1166325769392755],
    [9, 0.33753432684619816],
    [9.6, 0.7602476393403818],
    [11, 0.9860433625350502],
    [14, 0.99977249170715],
    [18, 0.9999826838481427],
  ])('a steep rise at %f as scipy 1.17.1 has it', (x, value) => {
    expect(Math.abs(curveValue(of(STEEP.x, STEEP.y), x) - value)).toBeLessThan(1e-13);
  });

  it.each([
    [0.25, 0.6529771959459459],
    [0.5, 1.262105855855856],
    [2, 2.3716216216216215],
    [3.5, 1.75],
    [5, 1.0185185185185186],
    [6.9, 1.4516481481481482],
  ])('data that turns, on uneven places, at %f as scipy 1.17.1 has it', (x, value) => {
    expect(Math.abs(curveValue(of([0, 1, 3, 4, 7], [0, 2, 2.5, 1, 1.5]), x) - value)).toBeLessThan(1e-13);
  });

  it('it meets every point, never falls where the data rise and never leaves their range', () => {
    const curve = of(STEEP.x, STEEP.y);
    for (let i = 0; i < STEEP.x.length; i++) expect(curveValue(curve, STEEP.x[i])).toBeCloseTo(STEEP.y[i], 14);
    const fine = Array.from({ length: 2001 }, (_, k) => curveValue(curve, 7.99 + (12.01 * k) / 2000));
    expect(fine.every((value, k) => k === 0 || value >= fine[k - 1])).toBe(true);
    expect(Math.max(...fine)).toBeLessThanOrEqual(0.999994 + 1e-15);
  });
});
