import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { absolutePressure, CELSIUS_ZERO, ratio, temperature } from '../../quantities/index.ts';
import {
  dryAirPressure,
  humidityRatio,
  relativeHumidity,
  vapourPressure,
  vapourPressureOfHumidityRatio,
  waterMoleFraction,
} from './humidity.ts';
import { dewPoint, hardyDewPoint, regulationSaturationPressure, saturationPressure } from './saturation-pressure.ts';
import { vapourPressureOfWetBulb, wetBulb } from './wet-bulb.ts';

const celsius = (t: number) => temperature(t + CELSIUS_ZERO);
const table = readFileSync(join(import.meta.dirname, 'reference/saturation-pressure.csv'), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(',').map(Number));

describe('saturation pressure', () => {
  it.each([
    ['2-01', 0.01, 611.65],
    ['2-02', 10, 1228.2],
    ['2-03', 20, 2339.32],
    ['2-04', 30, 4246.97],
    ['2-05', 40, 7384.94],
    ['2-06', 50, 12351.95],
  ])('check %s (IAPWS-95, computed with CoolProp 8.0.0): %f °C within 0.05 %%', (_row, t, wanted) => {
    expect(Math.abs(saturationPressure(celsius(t)) / wanted - 1)).toBeLessThan(5e-4);
  });

  it('check 2-07 (40 CFR 1065.645, seen in source): 282.65 K within 1e-6 kPa, the other equation within 0.1 %', () => {
    expect(Math.abs(regulationSaturationPressure(temperature(282.65)) - 1186.581)).toBeLessThan(1e-3);
    expect(Math.abs(saturationPressure(temperature(282.65)) / 1186.581 - 1)).toBeLessThan(1e-3);
  });

  it('follows the tables of IAPWS-95 (CoolProp 8.0.0) and of 40 CFR 1065.645 (numpy 2.4.6) over all of 0–50 °C', () => {
    expect(table.length).toBeGreaterThan(40);
    for (const [t, iapws, regulation] of table) {
      const at = celsius(t);
      expect(Math.abs(saturationPressure(t === 0 ? celsius(0.01) : at) / iapws - 1)).toBeLessThan(1e-4);
      expect(Math.abs(regulationSaturationPressure(at) - regulation)).toBeLessThan(0.006);
    }
  });

  it('boils at 100 °C under about one atmosphere, and has no value at absolute zero or above the critical point', () => {
    expect(saturationPressure(celsius(100))).toBeCloseTo(101418, -2);
    expect(saturationPressure(temperature(0))).toBeNaN();
    expect(saturationPressure(temperature(700))).toBeNaN();
    expect(regulationSaturationPressure(temperature(-1))).toBeNaN();
  });

  it('over supercooled water stays within 0.5 % of the regulation down to −20 °C', () => {
    for (const t of [-20, -10, -5]) {
      expect(Math.abs(saturationPressure(celsius(t)) / regulationSaturationPressure(celsius(t)) - 1)).toBeLessThan(
        5e-3,
      );
    }
  });
});

describe('dew point', () => {
  it.each([-15, 0, 5, 21.39, 50])('undoes the saturation pressure at %f °C, the approximation within 0.1 K', (t) => {
    expect(dewPoint(saturationPressure(celsius(t)))).toBeCloseTo(celsius(t), 7);
    expect(Math.abs(hardyDewPoint(saturationPressure(celsius(t))) - celsius(t))).toBeLessThan(0.1);
  });

  it('does not exist for dry air', () => {
    expect(dewPoint(absolutePressure(0))).toBeNaN();
  });
});

describe('humidity', () => {
  it('check 2-08 (40 CFR 1065.645, seen in source): water mole fraction', () => {
    const vapour = absolutePressure(0.5077 * 2337.1);
    expect(Math.abs(waterMoleFraction(vapour, absolutePressure(99980)) - 0.011868)).toBeLessThan(1e-6);
  });

  it('check 2-09 (ASHRAE, computed with psychrolib 1.1.1): wet bulb 20 °C at 30 °C', () => {
    const pressure = absolutePressure(101325);
    const vapour = vapourPressureOfWetBulb({ dryBulb: celsius(30), wetBulb: celsius(20), pressure });
    expect(Math.abs(vapour / 1684.9 - 1)).toBeLessThan(0.007);
    expect(Math.abs(relativeHumidity(vapour, celsius(30)) - 0.3968)).toBeLessThan(0.003);
    expect(Math.abs(dewPoint(vapour) - celsius(14.81))).toBeLessThan(0.1);
    expect(Math.abs(humidityRatio(vapour, pressure) / 0.010517 - 1)).toBeLessThan(0.007);
  });

  it.each([
    { row: '2-10', t: 30, rh: 0.6, p: 100000, vapour: 2547.6, dry: 97452.4, dew: 21.39 },
    { row: '2-11', t: 35, rh: 0.4, p: 99000, vapour: 2251.1, dry: 96748.9, dew: 19.38 },
  ])('check $row (ASHRAE, computed with psychrolib 1.1.1)', ({ t, rh, p, vapour, dry, dew }) => {
    const found = vapourPressure(ratio(rh), celsius(t));
    expect(Math.abs(found / vapour - 1)).toBeLessThan(1e-3);
    expect(Math.abs(dryAirPressure(absolutePressure(p), found) / dry - 1)).toBeLessThan(1e-3);
    expect(Math.abs(dewPoint(found) - celsius(dew))).toBeLessThan(0.05);
  });

  it('check 2-10 (ASHRAE, computed with psychrolib 1.1.1): wet bulb', () => {
    const air = { temperature: celsius(30), pressure: absolutePressure(100000) };
    const found = wetBulb({ ...air, vapourPressure: vapourPressure(ratio(0.6), air.temperature) });
    expect(Math.abs(found - celsius(23.79))).toBeLessThan(0.05);
  });

  it('round trips: humidity ratio, relative humidity, wet bulb', () => {
    const pressure = absolutePressure(97000);
    const vapour = absolutePressure(1500);
    expect(vapourPressureOfHumidityRatio(humidityRatio(vapour, pressure), pressure)).toBeCloseTo(1500, 9);
    expect(vapourPressure(relativeHumidity(vapour, celsius(25)), celsius(25))).toBeCloseTo(1500, 9);
    const bulb = wetBulb({ temperature: celsius(25), pressure, vapourPressure: vapour });
    expect(vapourPressureOfWetBulb({ dryBulb: celsius(25), wetBulb: bulb, pressure })).toBeCloseTo(1500, 5);
  });

  it('a wet bulb equals the air when it is saturated, and says nothing when it is warmer than the air or frozen', () => {
    const pressure = absolutePressure(100000);
    const saturated = vapourPressureOfWetBulb({ dryBulb: celsius(20), wetBulb: celsius(20), pressure });
    expect(relativeHumidity(saturated, celsius(20))).toBeCloseTo(1, 12);
    expect(vapourPressureOfWetBulb({ dryBulb: celsius(20), wetBulb: celsius(21), pressure })).toBeNaN();
    expect(vapourPressureOfWetBulb({ dryBulb: celsius(3), wetBulb: celsius(-1), pressure })).toBeNaN();
    expect(wetBulb({ temperature: celsius(-5), pressure, vapourPressure: absolutePressure(100) })).toBeNaN();
  });
});
