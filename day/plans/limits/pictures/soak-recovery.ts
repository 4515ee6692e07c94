import { soakAfter } from '../../../../core/physics/index.ts';
import { duration, type Measured, temperatureDifference } from '../../../../core/quantities/index.ts';
import type { EngineModel } from '../../model/engine-model.ts';
import { ledgerOf } from '../ledger.ts';

/** time since the load ended [s]; rise: what the charge cooler still holds [K], low and high one standard uncertainty of the time constant apart. */
export interface SoakRecovery {
  readonly time: Float64Array;
  readonly rise: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly timeConstant: Measured;
  /** Wait until a tenth of the rise is left [s]. */
  readonly wait: Measured;
  readonly assumed: readonly string[];
}

/** Recovery of a soaked charge cooler [s]. @source common practice, no source: 8 to 15 minutes until it is cold, taken as three time constants */
const USUAL = { value: 230, standardUncertainty: 70, source: 'common practice, no source' };
const POINTS = 61;

/**
 * How a charge cooler that has soaked up heat recovers with fans on and no load.
 *
 * Time constant from the day (`coolerTimeConstant`) where it is known.
 *
 * @param rise at the end of the load [K], ≥ 0 @param span how far to look [s]
 * @source  {@link soakAfter} without heating
 */
export function soakRecoveryOf(model: EngineModel, rise: number, span = 1200): SoakRecovery {
  const ledger = ledgerOf(model);
  const timeConstant = ledger.take('coolerTimeConstant', USUAL);
  const { value: tau, standardUncertainty: spread } = timeConstant;
  const time = Float64Array.from({ length: POINTS }, (_, i) => (span * i) / (POINTS - 1));
  const left = (constant: number): Float64Array =>
    time.map((t) =>
      soakAfter({ rise: temperatureDifference(rise), heating: 0, timeConstant: duration(constant) }, duration(t)),
    );
  const shortest = Math.max(tau - spread, 0.1 * tau);
  return {
    time,
    rise: left(tau),
    low: left(shortest),
    high: left(tau + spread),
    timeConstant,
    wait: { value: Math.log(10) * tau, standardUncertainty: Math.log(10) * spread },
    assumed: ledger.assumed,
  };
}
