import { soakAfter, tankAfter } from '../../../../core/physics/index.ts';
import {
  duration,
  type Measured,
  mass,
  power,
  temperature,
  temperatureDifference,
} from '../../../../core/quantities/index.ts';
import { airOf } from '../../model/conditions.ts';
import { isWaterCooled, startTank } from '../../model/coolant.ts';
import type { EngineModel, Step } from '../../model/engine-model.ts';
import { numbersOf } from '../../model/numbers.ts';
import { USUAL_RECOVERY } from '../cooler-series.ts';
import { ledgerOf } from '../ledger.ts';

/**
 * time since the load ended [s]; rise: what the charge cooler still holds above the air outside [K], low and high one standard uncertainty of the time
 * constant apart; below zero with ice.
 */
export interface SoakRecovery {
  readonly time: Float64Array;
  readonly rise: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly timeConstant: Measured;
  /** Wait until a tenth of the rise is left above where it settles [s]. */
  readonly wait: Measured;
  readonly assumed: readonly string[];
}

const POINTS = 61;

/** What is left in a cooler at the end of a pull. ice: in its tank [kg]. */
export interface SoakLeft {
  /** Above the air outside [K]. */
  readonly rise: number;
  readonly ice?: number;
  /** Where it settles above the air outside [K]; default 0. */
  readonly base?: number;
  /** How far to look [s]; default 20 min. */
  readonly span?: number;
  /** The air outside, for a tank; absent: that of the day. */
  readonly step?: Step;
}

/**
 * How a charge cooler that has soaked up heat recovers with fans on and no load; a tank with ice stays where it is until the ice is gone.
 *
 * Time constant as stated (`coolerTimeConstant`), else of the trade.
 *
 * @source  {@link soakAfter} without heating; {@link tankAfter}
 */
export function soakRecoveryOf(model: EngineModel, left: SoakLeft): SoakRecovery {
  const { span = 1200 } = left;
  const ledger = ledgerOf(model);
  const timeConstant = ledger.take('coolerTimeConstant', USUAL_RECOVERY);
  const { value: tau, standardUncertainty: spread } = timeConstant;
  const time = Float64Array.from({ length: POINTS }, (_, i) => (span * i) / (POINTS - 1));
  const over = (constant: number): Float64Array => time.map(riseOver(model, left, constant));
  return {
    time,
    rise: over(tau),
    low: over(Math.max(tau - spread, 0.1 * tau)),
    high: over(tau + spread),
    timeConstant,
    wait: { value: Math.log(10) * tau, standardUncertainty: Math.log(10) * spread },
    assumed: ledger.assumed,
  };
}

function riseOver(
  model: EngineModel,
  { rise, ice, base = 0, step }: SoakLeft,
  constant: number,
): (time: number) => number {
  const numbers = numbersOf(model);
  if (!isWaterCooled(numbers) || !(ice !== undefined && ice > 0)) {
    const soak = { rise: temperatureDifference(rise - base), heating: 0, timeConstant: duration(constant) };
    return (time) => base + soakAfter(soak, duration(time));
  }
  const air = airOf(model, step ?? { manifoldPressure: Number.NaN }).temperature.value;
  const asked = { ambientTemperature: air, water: air + rise, ice: 0 };
  const tank = {
    ...startTank({ ...numbers, coolerTimeConstant: constant }, asked),
    ice: mass(ice),
  };
  return (time) =>
    tankAfter(tank, { heat: power(0), ambient: temperature(air), time: duration(time) }).temperature - air;
}
