import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { absolutePressure, CELSIUS_ZERO, density, length, ratio, temperature } from '../../quantities/index.ts';
import { cipmDensity, moistAirDensity } from './density.ts';
import { vapourPressure } from './humidity.ts';
import {
  densityAltitude,
  geometricAltitude,
  geopotentialAltitude,
  pressureAltitude,
  standardAtmosphere,
  stationPressure,
} from './standard-atmosphere.ts';

const celsius = (t: number) => temperature(t + CELSIUS_ZERO);
const ROW_OF_ALTITUDE = new Map([
  [0, '2-16'],
  [500, '2-17'],
  [1000, '2-18'],
  [2000, '2-19'],
  [3000, '2-20'],
  [5000, '2-21'],
]);
const table = readFileSync(join(import.meta.dirname, 'reference/std-atmosphere-1976.csv'), 'utf8')
  .split('\n')
  .filter((line) => /^-?\d/.test(line))
  .map((line) => line.split(',').map(Number))
  .map(([h, T, p, rho]) => ({ row: ROW_OF_ALTITUDE.get(h) ?? 'of the table', h, T, p, rho }));

describe('density of moist air', () => {
  it.each([
    { row: '2-12', t: 20, p: 101325, rh: 0.5, rho: 1.19931, xv: 0.011589, z: 0.999615 },
    { row: '2-13', t: 20, p: 100000, rh: 0.5, rho: 1.18356, xv: 0.011742, z: 0.999619 },
    { row: '2-14', t: 25, p: 99000, rh: 0.3, rho: 1.15292, xv: 0.009645, z: 0.999677 },
  ])('check $row (CIPM-2007, constants seen in source, computed with numpy 2.4.6)', ({ t, p, rh, rho, xv, z }) => {
    const found = cipmDensity({ temperature: celsius(t), pressure: absolutePressure(p), relativeHumidity: ratio(rh) });
    expect(Math.abs(found.density - rho)).toBeLessThan(3e-5);
    expect(found.waterMoleFraction).toBeCloseTo(xv, 6);
    expect(found.compressibility).toBeCloseTo(z, 6);
    const vapour = vapourPressure(ratio(rh), celsius(t));
    const ideal = moistAirDensity({ temperature: celsius(t), pressure: absolutePressure(p), vapourPressure: vapour });
    expect(Math.abs(ideal / rho - 1)).toBeLessThan(1e-3);
  });

  it('check 2-15 (mixture law, computed with numpy 2.4.6): ideal gases', () => {
    const vapour = absolutePressure(0.5 * 2339.3);
    const air = { temperature: celsius(20), pressure: absolutePressure(101325), vapourPressure: vapour };
    expect(Math.abs(moistAirDensity(air) - 1.1989)).toBeLessThan(5e-4);
  });

  it('falls with humidity: damp air is lighter', () => {
    const air = { temperature: celsius(30), pressure: absolutePressure(100000) };
    const dry = moistAirDensity({ ...air, vapourPressure: absolutePressure(0) });
    expect(moistAirDensity({ ...air, vapourPressure: absolutePressure(3000) })).toBeLessThan(dry);
  });
});

describe('the standard atmosphere', () => {
  it.each(table)('check $row (US Standard Atmosphere 1976, constants seen in source): $h m', ({ h, T, p, rho }) => {
    const air = standardAtmosphere(length(h));
    expect(Math.abs(air.temperature / T - 1)).toBeLessThan(1e-6);
    expect(Math.abs(air.pressure / p - 1)).toBeLessThan(1e-6);
    expect(Math.abs(air.density / rho - 1)).toBeLessThan(1e-5);
  });

  it('check 2-22 (US Standard Atmosphere 1976, radius seen in source): geometric 1000 m', () => {
    const h = geopotentialAltitude(length(1000));
    expect(Math.abs(h - 999.84)).toBeLessThan(0.005);
    expect(Math.abs(standardAtmosphere(h).pressure / 89876.3 - 1)).toBeLessThan(1e-4);
    expect(geometricAltitude(h)).toBeCloseTo(1000, 9);
  });

  it('check 2-23 (inverse of the 1976 troposphere, computed with numpy 2.4.6): density altitude', () => {
    expect(Math.abs(densityAltitude(density(1.15)) - 653.2)).toBeLessThan(1);
  });

  it('is undone by density and pressure altitude', () => {
    for (const h of [-500, 0, 1420, 9000]) {
      const air = standardAtmosphere(length(h));
      expect(densityAltitude(air.density)).toBeCloseTo(h, 6);
      expect(pressureAltitude(air.pressure)).toBeCloseTo(h, 6);
    }
  });

  it('ends with the troposphere', () => {
    expect(standardAtmosphere(length(11000)).pressure).toBeCloseTo(22632, 0);
    expect(standardAtmosphere(length(11001)).pressure).toBeNaN();
  });
});

describe('station pressure', () => {
  it('of a standard report is the standard atmosphere', () => {
    const seaLevelPressure = absolutePressure(101325);
    expect(stationPressure({ seaLevelPressure, altitude: length(1420) })).toBeCloseTo(
      standardAtmosphere(length(1420)).pressure,
      6,
    );
    const mild = stationPressure({ seaLevelPressure, altitude: length(1420), temperature: temperature(278.92) });
    expect(Math.abs(mild / standardAtmosphere(length(1420)).pressure - 1)).toBeLessThan(2e-4);
  });

  it('is higher under a warm column and the same at sea level', () => {
    const report = { seaLevelPressure: absolutePressure(101000), altitude: length(1000) };
    const warm = stationPressure({ ...report, temperature: celsius(30) });
    expect(warm).toBeGreaterThan(stationPressure({ ...report, temperature: celsius(-10) }));
    expect(stationPressure({ ...report, altitude: length(0), temperature: celsius(30) })).toBe(101000);
  });
});
