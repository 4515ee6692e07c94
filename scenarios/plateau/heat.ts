import { easeBetween } from '../interpolate.ts';
import type { PullFaults } from './faults.ts';
import { hallAir, pullsBeforeInBlock } from './plan.ts';

/** Slow temperatures of a run [°C]. coolantAt: over time since tip-in and until. */
export interface Heat {
  readonly oil: number;
  readonly axle: number;
  readonly coolantAt: (sinceTipIn: number) => number;
  readonly base: number;
}

/** Oil, coolant and axle oil at the start of an entry: warmer through a block of pulls, faults on top. */
export function heatOf(id: string, clock: number, faults: PullFaults): Heat {
  const before = pullsBeforeInBlock(id);
  const hall = hallAir(clock).temperature;
  const base = 85 + 0.15 * (hall - 22);
  return {
    oil: faults.oilTemperature ?? 96 + 0.5 * (hall - 22) + 0.8 * Math.min(before, 6),
    axle: 74 + 1.1 * (hall - 22) + 2.6 * Math.min(before, 8) + (faults.axleOil ?? 0),
    base,
    coolantAt: faults.coolant === 'lost' ? lostCoolant : (since) => base + 3.5 * easeBetween(0, 14, since),
  };
}

/** A sensor now in coolant, now in steam. */
function lostCoolant(since: number): number {
  const steps = [96, 94, 71, 76, 97, 83, 108, 101, 88, 106, 108];
  const place = Math.max(0, Math.floor((since + 6) / 2.1));
  return (steps[Math.min(steps.length - 1, place)] ?? 96) + 3 * Math.sin(since * 2.3);
}
