import { expect, it } from 'vitest';
import { parseDayText } from './parse.ts';

/** A day with one more line under a section. */
function dayWith(section: 'parts' | 'roller', line: string): string {
  return ['knurl: 1', 'title: Facts of limits', `${section}:`, `  ${line}`, ''].join('\n');
}

it.each([
  ['fuel pump flow: 48 ± 1 g/s', 'fuelPumpFlow', 0.048, 0.001],
  ['fuel pump pressure: 500 kPa', 'fuelPumpPressure', 500e3, 0],
  ['fuel pump voltage: 13.5 V', 'fuelPumpVoltage', 13.5, 0],
  ['fuel pump free flow: 68 g/s', 'fuelPumpFreeFlow', 0.068, 0],
  ['big end diameter: 50.00 ± 0.01 mm', 'bigEndDiameter', 0.05, 1e-5],
  ['big end width: 22 mm', 'bigEndWidth', 0.022, 0],
  ['peak pressure limit: 120 bar', 'peakPressureLimit', 120e5, 0],
  ['exhaust temperature limit: 950 °C', 'exhaustTemperatureLimit', 1223.15, 0],
  ['charge temperature limit: 70 °C', 'chargeTemperatureLimit', 343.15, 0],
] as const)('%s is read', (...row) => {
  const [line, name, value, spread] = row;
  const read = parseDayText(dayWith('parts', line));
  expect(read.ok && read.value.parts?.[name]?.value).toBeCloseTo(value, 6);
  expect(read.ok && read.value.parts?.[name]?.standardUncertainty).toBeCloseTo(spread, 9);
});

it('the largest force, speed and power of the roller are read', () => {
  const force = parseDayText(dayWith('roller', 'max force: 9 kN'));
  expect(force.ok && force.value.roller.maxForce?.value).toBe(9000);
  const speed = parseDayText(dayWith('roller', 'max speed: 180 km/h'));
  expect(speed.ok && speed.value.roller.maxSpeed?.value).toBeCloseTo(50, 9);
  const power = parseDayText(dayWith('roller', 'max power: 400 kW'));
  expect(power.ok && power.value.roller.maxPower?.value).toBe(400e3);
});

it.each([
  ['parts', 'fuel pump flow: 48', /fuel pump flow/],
  ['parts', 'fuel pump flow: 48 kPa', /fuel pump flow/],
  ['parts', 'big end diameter: 0 mm', /big end diameter/],
  ['parts', 'peak pressure limit: -120 bar', /peak pressure limit/],
  ['parts', 'exhaust temperature limit: 950', /exhaust temperature limit/],
  ['roller', 'max power: 400 N', /max power/],
] as const)('%s with "%s" is refused, and the refusal names it', (section, line, named) => {
  const read = parseDayText(dayWith(section, line));
  expect(read.ok).toBe(false);
  expect(read.ok ? '' : read.refusal.message).toMatch(named);
});
