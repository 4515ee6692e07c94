import type { ClosedInput } from '../closed/closed-cycle.ts';
import { petrol } from '../gas/fuels.ts';
import { gasModel } from '../gas/gas-model.ts';
import { cylinderVolume } from '../mechanism/cylinder.ts';
import { DEGREE, INVENTED_ENGINE } from './invented-engine.ts';

export const FUEL = petrol(98);
export const MIXTURE = { lambda: 0.85, humidityRatio: 0.008 };
const GAS = gasModel(FUEL);

/** One full-load state of the invented engine: 4000 rpm, 1.8 bar. */
export function boostedInput(change: Partial<ClosedInput> = {}): ClosedInput {
  const gas = GAS.of(MIXTURE);
  const residual = 0.04;
  const R = (1 - residual) * gas.freshConstant + residual * gas.residualConstant;
  const intakeCloses = -130 * DEGREE;
  const [pressure, temperature] = [1.8e5, 360];
  return {
    shape: INVENTED_ENGINE,
    gas,
    span: {
      intakeCloses,
      exhaustOpens: 130 * DEGREE,
      wiebe: { start: -12 * DEGREE, duration: 55 * DEGREE },
      burnedShare: 0.98,
    },
    turning: (4000 * Math.PI) / 30,
    charge: {
      mass: (pressure * cylinderVolume(INVENTED_ENGINE, intakeCloses)) / (R * temperature),
      pressure,
      temperature,
      residual,
    },
    wallTemperature: 450,
    heatFactor: 1.2,
    leakArea: 0,
    crankcasePressure: 95e3,
    octane: 93,
    delayFactor: 1,
    ...change,
  };
}
