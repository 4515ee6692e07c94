import { differenceFromSi, type Finding, unitOf } from '../../../core/quantities/index.ts';
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
