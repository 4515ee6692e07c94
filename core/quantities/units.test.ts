import { expect, test } from 'vitest';
import { fromSi, KINDS, toSi, UNITS, unitNamed, unitOf } from './index.ts';

// Source of the figures: exact definitions as used by NIST SP 811 App. B (definitions from memory, values computed with numpy 2.4.6).
const exact: readonly [string, string, string, number][] = [
  ['3-01', '1 mechanical horsepower', 'hp', 745.699871582],
  ['3-02', '1 metric horsepower', 'PS', 735.49875],
  ['3-03', '1 pound-force foot', 'lbf·ft', 1.35581794833],
  ['3-04', '1 pound-force per square inch', 'psi', 6894.75729317],
  ['3-05', '1 inch of mercury, conventional', 'inHg', 3386.38864034],
  ['3-06', '1 millimetre of mercury, conventional', 'mmHg', 133.322387415],
  ['3-07', '1 torr', 'Torr', 133.322368421],
  ['3-08', '1 pound-force', 'lbf', 4.44822161526],
  ['3-09', '1 pound avoirdupois', 'lb', 0.45359237],
  ['3-10', '1 mile per hour', 'mph', 0.44704],
];

test.each(exact)('%s (NIST SP 811 App. B, definitions from memory): %s', (...[, , symbol, expected]) => {
  expect(Math.abs(toSi(1, unitOf(symbol)) / expected - 1)).toBeLessThan(1e-10);
});

test('3-11 (definition, computed with numpy 2.4.6): horsepower from pound-force feet and rpm divides by 5252.113122', () => {
  const power = toSi(1, unitOf('lbf·ft')) * toSi(1, unitOf('rpm'));
  expect(1 / fromSi(power, unitOf('hp'))).toBeCloseTo(5252.113122, 5);
});

test('3-12 (definition, computed with numpy 2.4.6): 400 N·m at 6000 rpm is 251.3274 kW or 337.036 hp', () => {
  const power = 400 * toSi(6000, unitOf('rpm'));
  expect(Math.abs(power / 251327.4 - 1)).toBeLessThan(1e-6);
  // Printed to six digits, so half of the last one.
  expect(Math.abs(fromSi(power, unitOf('hp')) - 337.036)).toBeLessThan(0.0005);
});

test('every unit survives the way to SI and back', () => {
  for (const unit of UNITS) {
    for (const value of [-40, 0, 1, 14.7, 6500.25]) {
      expect(fromSi(toSi(value, unit), unit)).toBeCloseTo(value, 9);
    }
  }
});

test('−40 is the same in °C and °F, and 0 °C is 273.15 K', () => {
  expect(toSi(-40, unitOf('°F'))).toBeCloseTo(toSi(-40, unitOf('°C')), 9);
  expect(toSi(0, unitOf('°C'))).toBe(273.15);
});

test('every kind names units of its own dimension', () => {
  for (const kind of Object.values(KINDS)) {
    for (const symbol of [kind.si, kind.metric, kind.imperial]) expect(unitOf(symbol).dimension).toBe(kind.dimension);
    expect(unitOf(kind.si).factor).toBe(1);
  }
});

test.each([
  ['kW', 'kW'],
  ['mW', undefined],
  ['km/h', 'km/h'],
  ['KMH', 'km/h'],
  ['U/min', 'rpm'],
  ['tr/min', 'rpm'],
  ['mbar', 'hPa'],
  ['Nm', 'N·m'],
  ['ft lb', 'lbf·ft'],
  ['degC', '°C'],
  ['C', '°C'],
  ['furlong', undefined],
  ['', undefined],
])('the unit text %j means %j', (text, symbol) => {
  expect(unitNamed(text)?.symbol).toBe(symbol);
});
