import type { Measured, QuantityKind, UnitSystem } from '../../core/quantities/index.ts';
import type { Conditions } from '../pulls/index.ts';
import { withBand } from './words.ts';

/** Temperature, pressure and humidity of the air, each with its band and where it comes from. */
export function airInWords(
  { temperature, pressure, vapourPressure, origin }: Conditions,
  system: UnitSystem,
): readonly string[] {
  const known = (measured: Measured, kind: QuantityKind, from: string | undefined): string =>
    `${withBand(measured.value, measured.standardUncertainty, { kind, system })} (${from})`;
  return [
    temperature ? known(temperature, 'temperature', origin.temperature) : 'temperature unknown',
    pressure ? known(pressure, 'barometric-pressure', origin.pressure) : 'barometer unknown',
    vapourPressure ? `vapour ${known(vapourPressure, 'barometric-pressure', origin.humidity)}` : 'humidity unknown',
  ];
}
