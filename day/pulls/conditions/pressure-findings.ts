import { standardAtmosphere } from '../../../core/physics/index.ts';
import { differenceFromSi, type Finding, length, type Measured, unitOf } from '../../../core/quantities/index.ts';
import type { FactorLine } from '../result.ts';
import type { AirReading } from './reading.ts';

/** A barometer step from which a corrected power suffers [Pa]. @source our default: a third of a percent of power */
const COARSE = 300;

/** What the barometer does to a corrected value: nothing known, or known only to a coarse step. */
export function pressureFindings(
  barometer: AirReading | undefined,
  factors: readonly FactorLine[],
): readonly Finding[] {
  if (!barometer) {
    return [
      {
        kind: 'missing-barometer',
        weight: 'note',
        message:
          'missing barometer: no corrected power can be given. A barometer known only to a whole inch of mercury would leave it uncertain by ±1.7 %, to a whole kPa by ±0.5 %',
        numbers: { wholeInch: 0.5 / 29, wholeKilopascal: 0.5 / 100 },
      },
    ];
  }
  if (!(barometer.step >= COARSE)) return [];
  const half = barometer.step / 2 / barometer.value.value;
  const inches = differenceFromSi(barometer.step, unitOf('inHg'));
  const affected = factors.filter(
    ({ factor, rule }) => factor !== undefined && rule !== 'none' && rule !== 'temperature only',
  );
  return [
    {
      kind: 'coarse-barometer',
      weight: 'doubt',
      message: `the barometer is coarse, ${barometer.origin}: its step of ${(barometer.step / 1000).toFixed(2)} kPa (${inches.toFixed(2)} inHg) leaves every pressure-corrected power uncertain by ±${(100 * half).toFixed(1)} % from this alone (${affected.map(({ rule }) => rule).join(', ')})`,
      numbers: { step: barometer.step, share: half, limit: COARSE },
      rule: 'coarse barometer, our default',
    },
  ];
}

/** Weather moves the pressure at a place by about so much, one standard deviation [Pa]. @source common practice, no source: 0.8–1.2 kPa at mid latitudes */
const WEATHER = 1200;

/** Beyond so many standard deviations from the standard atmosphere a pressure does not belong to the altitude. @source our default */
const FAR = 4;

/**
 * A pressure that does not fit the stated altitude. One that would fit sea level was most likely reduced to it, as weather services
 * and airports print it: then every factor that uses it is wrong by the height.
 *
 * @source standard atmosphere (ISO 2533) for the pressure at the altitude
 */
export function altitudeFindings(
  barometer: AirReading | undefined,
  altitude: Measured | undefined,
): readonly Finding[] {
  if (!barometer || !altitude) return [];
  const here = standardAtmosphere(length(altitude.value)).pressure;
  const sea = standardAtmosphere(length(0)).pressure;
  const pressure = barometer.value.value;
  const spread = Math.hypot(WEATHER, barometer.value.standardUncertainty, (altitude.standardUncertainty * here) / 8400);
  if (!(Math.abs(pressure - here) > FAR * spread)) return [];
  const reduced = Math.abs(pressure - sea) <= FAR * spread;
  const kilo = (pascals: number): string => (pascals / 1000).toFixed(1);
  return [
    {
      kind: reduced ? 'pressure-at-sea-level' : 'pressure-against-altitude',
      weight: 'doubt',
      message: `the barometer (${barometer.origin}) shows ${kilo(pressure)} kPa, expected about ${kilo(here)} kPa at ${altitude.value.toFixed(0)} m: ${reduced ? 'it looks reduced to sea level, as weather reports give it; the station pressure is needed, and every pressure-corrected power is wrong with this one' : 'one of the two is wrong'}`,
      numbers: { pressure, expected: here, altitude: altitude.value, limit: FAR * spread },
      rule: 'pressure against altitude, our default',
    },
  ];
}
