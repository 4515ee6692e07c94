import { saturationPressure } from '../../../core/physics/index.ts';
import { type Finding, temperature } from '../../../core/quantities/index.ts';
import type { AirReading } from './reading.ts';

/** Difference of two relative humidities from which it is mentioned, and from which it is a doubt [1]. @source our default */
const NOTED = 0.01;
const DOUBTED = 0.05;

/**
 * Dew point and relative humidity of one record must agree through the air temperature. A dew point that stood still while the air
 * warmed or cooled does not.
 *
 * @source relative humidity = saturation pressure at the dew point over that at the air temperature
 */
export function humidityFindings(
  air: AirReading | undefined,
  dew: AirReading | undefined,
  humidity: AirReading | undefined,
): readonly Finding[] {
  if (!air || !dew || !humidity) return [];
  const full = saturationPressure(temperature(air.value.value));
  const byDew = saturationPressure(temperature(dew.value.value)) / full;
  const difference = byDew - humidity.value.value;
  if (!(Math.abs(difference) > NOTED)) return [];
  const percent = (share: number): string => (100 * share).toFixed(1);
  return [
    {
      kind: 'humidity-disagrees',
      weight: Math.abs(difference) > DOUBTED ? 'doubt' : 'note',
      message: `dew point and air temperature give ${percent(byDew)} % relative humidity, the humidity channel ${percent(humidity.value.value)} %: one of them is stale; the dew point is used`,
      numbers: { byDewPoint: byDew, logged: humidity.value.value, limit: NOTED },
      rule: 'humidity against dew point, our default',
    },
  ];
}
