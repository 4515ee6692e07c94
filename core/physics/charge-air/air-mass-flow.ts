import { type Contribution, combinedUncertainty } from '../../numerics/index.ts';
import {
  type AbsolutePressure,
  type AngularSpeed,
  type MassFlow,
  type Measured,
  massFlow,
  measured,
  type Ratio,
  type Temperature,
  type Volume,
} from '../../quantities/index.ts';
import { DRY_AIR_GAS_CONSTANT } from '../air/density.ts';

export interface SpeedDensity {
  /** Volumetric efficiency referred to the manifold state [1]. */
  readonly volumetricEfficiency: Ratio;
  readonly manifoldPressure: AbsolutePressure;
  readonly chargeTemperature: Temperature;
  readonly displacement: Volume;
  readonly engineSpeed: AngularSpeed;
}

/**
 * Air mass flow of a four-stroke engine from manifold state and speed [kg/s].
 *
 *     ṁ = ηv·p·Vd·N/(2·R·T)        N revolutions per second
 *
 * @valid   ηv must belong to this engine, speed and cam setting; humidity ignored (below 1 % in flow)
 * @source  ideal gas law, one filling per two revolutions
 */
export function airMassFlow(input: SpeedDensity): MassFlow {
  const { volumetricEfficiency, manifoldPressure, chargeTemperature, displacement, engineSpeed } = input;
  const revolutions = engineSpeed / (2 * Math.PI);
  return massFlow(
    (volumetricEfficiency * manifoldPressure * displacement * revolutions) /
      (2 * DRY_AIR_GAS_CONSTANT * chargeTemperature),
  );
}

/** As {@link SpeedDensity}, each with its standard uncertainty, SI. */
export interface MeasuredSpeedDensity {
  readonly volumetricEfficiency: Measured;
  readonly manifoldPressure: Measured;
  readonly chargeTemperature: Measured;
  readonly displacement: Measured;
  readonly engineSpeed: Measured;
}

export interface MeasuredAirFlow {
  readonly flow: Measured;
  /** Share of each input [kg/s]. */
  readonly contributions: readonly Contribution[];
}

/**
 * Air mass flow with its standard uncertainty [kg/s], inputs independent.
 *
 * The flow is a product, so (u/ṁ)² = Σ (u(x)/x)²: exact in first order.
 *
 * @source  JCGM 100:2008, equations 10 and 12
 */
export function measuredAirMassFlow(input: MeasuredSpeedDensity): MeasuredAirFlow {
  const constant = 1 / (4 * Math.PI * DRY_AIR_GAS_CONSTANT);
  const combined = combinedUncertainty({
    inputs: [
      { name: 'volumetric efficiency', ...input.volumetricEfficiency },
      { name: 'manifold pressure', ...input.manifoldPressure },
      { name: 'charge temperature', ...input.chargeTemperature },
      { name: 'displacement', ...input.displacement },
      { name: 'engine speed', ...input.engineSpeed },
    ],
    model: ([efficiency, p, T, volume, speed]) => (constant * efficiency * p * volume * speed) / T,
  });
  return { flow: measured(combined.value, combined.standardUncertainty), contributions: combined.contributions };
}
