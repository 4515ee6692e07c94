import { describe, expect, it, test } from 'vitest';
import type { QuantityKind } from './kinds.ts';
import { parseQuantity } from './parse.ts';
import { exactText, measuredText } from './readable.ts';

describe('a number that was set', () => {
  it.each<[number, QuantityKind, string]>([
    [2.5e-3 / 0.45, 'time', '5.556 ms'],
    [0.05, 'time', '50 ms'],
    [0.1, 'time', '0.1 s'],
    [0, 'time', '0 s'],
    [4e-5, 'time', '40 µs'],
    [40, 'engine-speed', '382 rpm'],
    [0.07, 'angle', '4.01°'],
    [1e-6, 'fraction', '0.0001 %'],
    [0.968, 'fraction', '96.8 %'],
    [137.15e3 * (Math.PI / 30), 'turbo-speed', '137.15 krpm'],
    [7400, 'pressure-difference', '7.4 kPa'],
    [15, 'temperature-difference', '15 °C'],
    [-2, 'temperature-difference', '-2 °C'],
    [4.5e-6, 'fraction-per-pressure', '0.45 %/kPa'],
    [11.5 * (180 / Math.PI), 'temperature-per-angle', '11.5 K/°'],
    [0.006 * (180 / Math.PI), 'fraction-per-angle', '0.6 %/°'],
    [0.00035, 'temperature-per-pressure', '0.35 K/kPa'],
    [Number.NaN, 'time', ''],
  ])('%d of %s is %s', (value, kind, text) => {
    expect(exactText(value, kind)).toBe(text);
  });

  it('can be typed again', () => {
    for (const [value, kind] of [
      [2.5e-3 / 0.45, 'time'],
      [0.07, 'angle'],
      [0.04, 'fraction'],
    ] as const) {
      const read = parseQuantity(exactText(value, kind), kind);
      expect(read.ok && Math.abs(read.value.value / value - 1)).toBeLessThan(2e-4);
    }
  });

  it('is told in the units of that habit', () => {
    expect(exactText(100e3 / 14.5, 'pressure-difference', { system: 'imperial' })).toBe('1.0003 psi');
    expect(exactText(0.05, 'time', { system: 'imperial' })).toBe('50 ms');
  });
});

describe('a measured number', () => {
  it.each<[number, QuantityKind, number | undefined, string]>([
    [0.00082, 'time', 0.03, '0.8 ms'],
    [0.00082, 'time', undefined, '0.82 ms'],
    [0, 'time', 0.15, '0.00 s'],
    [0.000541, 'fraction', 0.0125, '0.05 %'],
    [0.0431, 'fraction', 0.02, '4.3 %'],
    [0.000541, 'fraction', undefined, '0.054 %'],
    [-0.00032, 'lambda', 0.06, '-0.0003'],
    [0.831, 'lambda', 0.9, '0.831'],
    [420, 'pressure-difference', 17e3, '0.4 kPa'],
    [0.99912, 'ratio', 1.025, '0.999'],
    [13.24, 'ratio', 3, '13.2'],
    [0.966, 'ratio', 2, '0.97'],
    [3, 'count', 3, '3'],
    [0.0084, 'angle', 0.052, '0.48°'],
    [199_012, 'absolute-pressure', undefined, '199.0 kPa'],
    [0, 'energy', undefined, '0.0 kJ'],
    [0.045, 'energy', undefined, '0.045 J'],
    [Number.NaN, 'time', 1, '–'],
  ])('%d of %s against %s is %s', (...[value, kind, limit, text]) => {
    expect(measuredText(value, kind, { limit })).toBe(text);
  });

  test('at a limit of zero counts by itself', () => {
    expect(measuredText(0.00123, 'fraction', { limit: 0 })).toBe('0.12 %');
  });
});
