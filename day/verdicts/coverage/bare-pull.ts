import type { PullResult, Segment } from '../../pulls/index.ts';

/** What is known of a bare pull: arrays of equal length, power at the roll surface only. */
export interface BarePull {
  readonly segment: Segment;
  readonly time: Float64Array;
  readonly engineSpeed: Float64Array;
  readonly rollSpeed: Float64Array;
  readonly rollPower: Float64Array;
}

/** A pull of which nothing is known but power at the roll surface over engine speed: neither losses nor engine, uncertainty nor peaks. */
export function barePull({ segment, ...known }: BarePull): PullResult {
  const count = known.time.length;
  const unknown = new Float64Array(count).fill(Number.NaN);
  const none = { brakePower: unknown, rollInertiaPower: unknown, slip: unknown, tyrePower: unknown };
  const losses = { rollingLossPower: unknown, wheelInertiaPower: unknown, torqueLossPower: unknown };
  const engine = { engineInertiaPower: unknown, enginePower: unknown, correctedPower: unknown };
  const spread = { rollPowerUncertainty: unknown, tyrePowerUncertainty: unknown, enginePowerUncertainty: unknown };
  return {
    segment,
    curve: {
      ...{ axis: 'engine-speed', ...known, ...none, ...losses, ...engine, ...spread },
      ...{ factor: 1, rule: 'none', valid: new Uint8Array(count).fill(1), missing: [], bandwidth: 1.5, peakBias: 0 },
    },
    ...{ peaks: [], budget: [], findings: [] },
  };
}
