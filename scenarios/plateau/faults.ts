/**
 * What is wrong in a pull, as physical knobs. Engine speeds in 1/min, pressures in kPa, angles in °CA, shares as fractions.
 * Nothing here is ever written into a file of the day.
 */
export interface PullFaults {
  readonly stuckLambdaA?: number;
  readonly softCut?: { readonly rpm: number; readonly hertz: number };
  readonly slip?: {
    readonly from: number;
    readonly top: number;
    readonly to: number;
    readonly low: number;
    readonly high: number;
  };
  readonly leak?: {
    readonly wastegate: number;
    readonly turbo: number;
    readonly charge: number;
    readonly torque: number;
  };
  readonly swing?: {
    readonly overshoot: number;
    readonly hertz: number;
    readonly size: number;
    readonly from: number;
    readonly to: number;
  };
  readonly flutter?: boolean;
  readonly breakup?: { readonly from: number; readonly to: number; readonly loss: number };
  readonly rollerGap?: { readonly rpm: number; readonly seconds: number };
  readonly rollerJump?: { readonly seconds: number; readonly share: number };
  readonly axleTorque?: number;
  readonly phaserB?: { readonly lag: number; readonly error: number };
  readonly oilTemperature?: number;
  readonly fuelPressure?: { readonly drop: number; readonly lambda: number; readonly torque: number };
  readonly voltageSag?: number;
  readonly axleOil?: number;
  readonly knock?: { readonly from: number; readonly to: number; readonly torque: number };
  readonly syncLoss?: { readonly rpm: number; readonly seconds: readonly number[] };
  readonly heatSoak?: number;
  readonly coolant?: 'lift' | 'vent' | 'lost';
  readonly oilSpike?: { readonly rpm: number; readonly drop: number; readonly seconds: number };
}

/** The faults of the day by pull. */
export const FAULTS: Readonly<Record<string, PullFaults>> = {
  3: { stuckLambdaA: 0.79 },
  4: { softCut: { rpm: 6300, hertz: 12 } },
  5: { slip: { from: 4300, top: 4950, to: 5150, low: 0.025, high: 0.11 } },
  6: { leak: { wastegate: 0.11, turbo: 3.9, charge: 4, torque: -0.002 } },
  7: { swing: { overshoot: 11, hertz: 2.3, size: 6, from: 3200, to: 5000 } },
  8: { flutter: true },
  9: { breakup: { from: 5700, to: 6700, loss: 0.09 } },
  11: { rollerGap: { rpm: 5600, seconds: 0.84 } },
  13: { axleTorque: 6, axleOil: 2 },
  14: { axleTorque: 18, axleOil: 7, rollerJump: { seconds: 3600, share: 1 / 3 } },
  15: { axleTorque: 30, axleOil: 12, phaserB: { lag: 9, error: 6 }, oilTemperature: 128 },
  16: { axleTorque: 42, axleOil: 18, voltageSag: 1.2, fuelPressure: { drop: 32, lambda: 0.04, torque: -0.002 } },
  17: { axleTorque: 60, axleOil: 25 },
  18: { axleTorque: 5 },
  19: { axleTorque: 5 },
  20: { axleTorque: 5, oilSpike: { rpm: 4600, drop: 40, seconds: 0.2 } },
  21: { axleTorque: 5, knock: { from: 3350, to: 3950, torque: -0.023 } },
  22: { axleTorque: 5, syncLoss: { rpm: 6180, seconds: [0.06, 0.14, 0.07] } },
  23: { axleTorque: 5, heatSoak: 9 },
  24: { axleTorque: 5, coolant: 'lift' },
  25: { axleTorque: 5, coolant: 'vent' },
  26: { axleTorque: 5, coolant: 'lost' },
};

/** Error of the roller's ambient probe [°C]: exhaust drifts over it, more with every pull of a block; after pull 20 it stays 3 °C high. */
export function probeError(pullId: string, before: number): number {
  return Number(pullId) > 20 ? 3 : 0.6 * before;
}
