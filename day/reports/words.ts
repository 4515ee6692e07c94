import { formatQuantity, type QuantityKind, type UnitSystem } from '../../core/quantities/index.ts';
import type { Peak } from '../pulls/index.ts';

/** `204.3 ± 3.6 kW`: value and expanded uncertainty, two standard deviations (coverage about 95 %). */
export function withBand(
  value: number,
  standardUncertainty: number,
  { kind, system = 'metric' }: { kind: QuantityKind; system?: UnitSystem },
): string {
  return formatQuantity(value, kind, { system, standardUncertainty: 2 * standardUncertainty });
}

/** `233.2 ± 2.1 kW at 6480 rpm`, or at a roll speed where no engine speed is known. */
export function peakText(peak: Peak, system: UnitSystem = 'metric'): string {
  return `${peakValue(peak, system)} at ${peakPlace(peak, system)}`;
}

/** `233.2 ± 2.1 kW`. */
export function peakValue({ what, value, standardUncertainty }: Peak, system: UnitSystem = 'metric'): string {
  return withBand(value, standardUncertainty, { kind: what.endsWith('torque') ? 'torque' : 'power', system });
}

/** `6480 rpm`, or a roll speed where no engine speed is known. */
export function peakPlace({ engineSpeed, rollSpeed }: Peak, system: UnitSystem = 'metric'): string {
  return engineSpeed === undefined
    ? formatQuantity(rollSpeed, 'speed', { system })
    : formatQuantity(engineSpeed, 'engine-speed', { system });
}
