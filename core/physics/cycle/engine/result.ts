import type {
  AbsolutePressure,
  Angle,
  Mass,
  Power,
  PressureDifference,
  Ratio,
  Temperature,
  Torque,
} from '../../../quantities/index.ts';

/** What one state of the engine gives. Per cycle means per two revolutions of the whole engine. */
export interface CycleResult {
  readonly brakeTorque: Torque;
  readonly brakePower: Power;
  /** Mean effective pressures: over compression and expansion, of gas exchange (negative costs work), of friction, at the crank. */
  readonly grossIndicated: PressureDifference;
  readonly pumping: PressureDifference;
  readonly friction: PressureDifference;
  readonly brake: PressureDifference;
  readonly peakPressure: AbsolutePressure;
  /** After firing top dead centre. */
  readonly peakAngle: Angle;
  readonly hottestUnburned: Temperature;
  /** ∫ dt/τ of the end gas; at 1 it lights by itself. */
  readonly knockIntegral: Ratio;
  /** After firing top dead centre. */
  readonly halfBurned: Angle;
  /** Before firing top dead centre; with a given place of half burned, the spark that the burn law asks for. */
  readonly sparkAdvance: Angle;
  /** From spark to 10 %, and from 10 to 90 % burned. */
  readonly burnDelay: Angle;
  readonly burnDuration: Angle;
  /** Mean of the gas that leaves, by energy, behind the port. A probe shows less. */
  readonly exhaustTemperature: Temperature;
  /** Dry air. */
  readonly airPerCycle: Mass;
  readonly fuelPerCycle: Mass;
  /** Dry air over what the displacement would hold at the state of the manifold. */
  readonly volumetricEfficiency: Ratio;
  /** Burned gas left from the cycle before, by mass of the charge. */
  readonly residualShare: Ratio;
  /** Of the charge at intake closing. */
  readonly closingPressure: AbsolutePressure;
  readonly closingTemperature: Temperature;
  /** Share of the fuel's energy. */
  readonly heatShare: Ratio;
  readonly brakeEfficiency: Ratio;
  /** What the energy balance of the closed part lacks, as a share of the fuel's energy. */
  readonly energyError: number;
  /** Temperature of residual gas that came out, less the one that went in: how far the passes have settled. */
  readonly residualMismatch: number;
}

/** Traces of the last cycle at the nodes, from intake closing to exhaust opening; burned temperature is NaN before burning. */
export interface CycleTrace {
  /** After firing top dead centre [rad]. */
  readonly angle: Float64Array;
  /** [Pa] */
  readonly pressure: Float64Array;
  /** [K] */
  readonly unburnedTemperature: Float64Array;
  readonly burnedTemperature: Float64Array;
  /** [1] */
  readonly burnedShare: Float64Array;
}
