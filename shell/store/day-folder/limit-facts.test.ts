import { expect, it } from 'vitest';
import { parseDayText } from './parse.ts';
import { writeDayText } from './write.ts';

/** A day with one more line under a section. */
function dayWith(section: 'parts' | 'roller' | 'vehicle', line: string): string {
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
  ['strap angle: 40 ± 2 °', 'strapAngle', 0.6981317, 0.034906585],
  ['strap plan angle: 20 °', 'strapPlanAngle', 0.3490659, 0],
  ['strap rating: 12 kN', 'strapRating', 12e3, 0],
  ['axle load limit: 11 kN', 'axleLoadLimit', 11e3, 0],
  ['native boost: 0.6 bar', 'nativeBoost', 60e3, 0],
  ['native power: 150 ± 5 kW', 'nativePower', 150e3, 5e3],
  ['plug thread: 19.0 mm', 'plugThread', 0.019, 0],
  ['head thread: 19.0 mm', 'headThread', 0.019, 0],
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

it('how many straps there are and how much colder the plugs are is read', () => {
  const read = parseDayText(`${dayWith('parts', 'strap count: 2')}  plug steps colder: 0\n`);
  expect(read.ok && read.value.parts).toEqual({ strapCount: 2, plugStepsColder: 0 });
});

it.each(['gear ratios: 3.10, 2.05, 1.55, 1.24, 0.98', 'gear ratios: [3.10, 2.05, 1.55, 1.24, 0.98]'])(
  '%s is read, and is still the same when it was written',
  (line) => {
    const read = parseDayText(`${dayWith('vehicle', line)}  final drive: 3.55\n  pull gear: 4\n`);
    if (!read.ok) throw new Error(read.refusal.message);
    const { vehicle } = read.value;
    expect(vehicle).toEqual({
      gearRatios: [3.1, 2.05, 1.55, 1.24, 0.98],
      finalDrive: { value: 3.55, standardUncertainty: 0 },
      pullGear: 4,
    });
    const again = parseDayText(writeDayText(read.value));
    expect(again.ok && again.value.vehicle).toEqual(vehicle);
  },
);

it.each([
  ['parts', 'fuel pump flow: 48', /fuel pump flow/],
  ['vehicle', 'gear ratios: 3,10, 2,05', /gear ratios.*comma and a space/],
  ['vehicle', 'gear ratios: 1.0, 3.1', /gear ratios.*below the one before/],
  ['vehicle', 'gear ratios: [3.1, 3.1]', /gear ratios/],
  ['vehicle', 'gear ratios: 3.1, 0', /gear ratios/],
  ['vehicle', 'gear ratios: short, long', /gear ratios/],
  ['vehicle', 'pull gear: 2.5', /pull gear/],
  ['parts', 'strap angle: 95 °', /strap angle/],
  ['parts', 'strap angle: 40', /strap angle/],
  ['parts', 'strap rating: 12 kg', /strap rating/],
  ['parts', 'native boost: -10 kPa', /native boost/],
  ['parts', 'plug steps colder: half', /plug steps colder/],
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
