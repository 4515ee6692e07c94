import type { AbsolutePressure, Angle, AngularSpeed, Ratio, Temperature } from '../../../quantities/index.ts';

/** How burning is placed: by the spark, with delay and duration from the burn law, or by where half is burned. */
export type Phasing =
  | {
      readonly kind: 'spark';
      /** Before firing top dead centre [rad]. */
      readonly advance: Angle;
    }
  | {
      readonly kind: 'half burned';
      /** After firing top dead centre [rad]. */
      readonly angle: Angle;
    };

/** One steady full-load state of the engine. Altitude acts through the two pressures and the humidity. */
export interface CycleState {
  readonly speed: AngularSpeed;
  /** In the intake manifold. */
  readonly manifoldPressure: AbsolutePressure;
  /** In the intake manifold, before fuel. */
  readonly chargeTemperature: Temperature;
  /** Before the turbine, or in the exhaust manifold. */
  readonly exhaustPressure: AbsolutePressure;
  /** Air over stoichiometric air. */
  readonly lambda: Ratio;
  /** Water vapour per dry air by mass [kg/kg]. */
  readonly humidityRatio: Ratio;
  readonly phasing: Phasing;
  /** Advance of the cams against the timing of the engine, earlier is positive [rad]. */
  readonly intakePhase: Angle;
  readonly exhaustPhase: Angle;
}
