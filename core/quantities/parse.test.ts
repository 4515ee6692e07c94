import { expect, test } from 'vitest';
import { formatQuantity, parseQuantity, type QuantityKind } from './index.ts';

const good: readonly [string, QuantityKind, number, number | undefined][] = [
  ['83 mm', 'length', 0.083, undefined],
  ['-40 °C', 'temperature', 233.15, undefined],
  ['200 kPa', 'absolute-pressure', 200_000, undefined],
  ['450 ± 4.5 kg', 'mass', 450, 4.5],
  ['450 +/- 1% kg', 'mass', 450, 4.5],
  ['5.5 %', 'fraction', 0.055, undefined],
  ['0.055', 'fraction', 0.055, undefined],
  ['1e3N', 'force', 1000, undefined],
];

test.each(good)('%s as %s is read', (...[text, kind, value, spread]) => {
  const outcome = parseQuantity(text, kind);
  expect(outcome.ok && outcome.value.value).toBeCloseTo(value, 9);
  if (spread !== undefined) expect(outcome.ok && outcome.value.standardUncertainty).toBeCloseTo(spread, 9);
});

const bad: readonly [string, QuantityKind][] = [
  ['12,5 mm', 'length'],
  ['1,250 N', 'force'],
  ['83', 'length'],
  ['83 kPa', 'length'],
  ['', 'mass'],
  ['mm', 'length'],
  ['1e999 N', 'force'],
  ['450 ± -1 kg', 'mass'],
  ['12.5.1 mm', 'length'],
  ['38 ± 2 %', 'fraction'],
];

test.each(bad)('%j as %s is refused with what was expected', (text, kind) => {
  const outcome = parseQuantity(text, kind);
  expect(outcome.ok).toBe(false);
  expect(!outcome.ok && outcome.refusal.kind).toBe('invalid-quantity');
  expect(!outcome.ok && outcome.refusal.message).toContain(`"${text}"`);
});

test('rounding follows the uncertainty and happens only in print', () => {
  expect(formatQuantity(204_312, 'power', { standardUncertainty: 1840 })).toBe('204.3 ± 1.8 kW');
  expect(formatQuantity(204_312, 'power', { standardUncertainty: 1840, system: 'imperial' })).toBe('274.0 ± 2.5 hp');
  expect(formatQuantity(300.15, 'temperature')).toBe('27.0 °C');
  expect(formatQuantity(Number.NaN, 'power')).toBe('–');
  expect(formatQuantity(-0.00001, 'force')).toBe('0 N');
});

test.each([
  ['3 K', 3],
  ['3 °C', 3],
  ['9 °F', 5],
  ['3 Δ°C', 3],
])('a difference of temperatures may be written %s', (text, kelvin) => {
  const read = parseQuantity(text, 'temperature-difference');
  expect(read.ok && read.value.value).toBeCloseTo(kelvin, 12);
});

test('a temperature is still a temperature', () => {
  const read = parseQuantity('3 °C', 'temperature');
  expect(read.ok && read.value.value).toBeCloseTo(276.15, 12);
});
