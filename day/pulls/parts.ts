import type { Measured } from '../../core/quantities/index.ts';

/** Which fuel is burnt: decides heating value, air need, knock and charge cooling where nothing better is stated. */
export type FuelName = 'petrol' | 'ethanol blend' | 'methanol' | 'methane' | 'LPG' | 'diesel';

/**
 * What is known of the parts: needed to say which limit comes first. SI. What is absent is taken from a prior of the trade with a wide
 * spread, and the answer says so.
 */
export interface PartsFacts {
  /** [m] */
  readonly bore?: Measured;
  readonly stroke?: Measured;
  readonly rodLength?: Measured;
  readonly compressionRatio?: Measured;
  /** Piston, rings, pin and the rod's upper part, of one cylinder [kg]. */
  readonly reciprocatingMass?: Measured;
  /** Crank angle at which the inlet closes, after bottom dead centre [rad]. */
  readonly inletCloses?: Measured;
  readonly fuel?: FuelName;
  /** Research octane number [1]. */
  readonly octane?: Measured;
  /** Share of ethanol by volume [1]. */
  readonly ethanolShare?: Measured;
  /** Name of a file in the day's folder: flow, pressure ratio, efficiency by speed line. */
  readonly compressorMap?: string;
  /** Outer diameter of the compressor wheel [m]. */
  readonly compressorWheel?: Measured;
  /** Effective flow area of the turbine [m²] and its efficiency with the shaft's [1]. */
  readonly turbineArea?: Measured;
  readonly turbineEfficiency?: Measured;
  /** Air flow at which the following losses hold [kg/s]; they grow with its square. */
  readonly ratedAirFlow?: Measured;
  /** Before the compressor, in the charge cooler, after the turbine [Pa]. */
  readonly inletLoss?: Measured;
  readonly coolerLoss?: Measured;
  readonly exhaustLoss?: Measured;
  /** Of the charge cooler at the rated flow [1]. */
  readonly coolerEffectiveness?: Measured;
  readonly injectors?: number;
  /** Flow of one injector [kg/s] at `injectorPressure` [Pa]. */
  readonly injectorFlow?: Measured;
  readonly injectorPressure?: Measured;
  /** [s] */
  readonly injectorDeadTime?: Measured;
  /** Largest share of the cycle that an injector may stay open [1]. */
  readonly largestDuty?: Measured;
  /** Flow of all fuel pumps together [kg/s] against `fuelPumpPressure` over ambient [Pa] at `fuelPumpVoltage` under load [V], and against none [kg/s]. */
  readonly fuelPumpFlow?: Measured;
  readonly fuelPumpPressure?: Measured;
  readonly fuelPumpVoltage?: Measured;
  readonly fuelPumpFreeFlow?: Measured;
  /** [m] */
  readonly plugGap?: Measured;
  /** Of the coil's primary [Ω], [H]. */
  readonly coilResistance?: Measured;
  readonly coilInductance?: Measured;
  /** [s] */
  readonly dwell?: Measured;
  /** At the coil while pulling [V]. */
  readonly coilVoltage?: Measured;
  /** Highest voltage that the coil gives at that dwell and voltage [V]. */
  readonly sparkVoltage?: Measured;
  /** Cylinder pressure at which the head lifts [Pa]. */
  readonly headLiftPressure?: Measured;
  /** Highest cylinder pressure that somebody allows for the engine [Pa]. */
  readonly peakPressureLimit?: Measured;
  /** Highest temperature before the turbine, as a probe there shows it, and of the charge [K]. */
  readonly exhaustTemperatureLimit?: Measured;
  readonly chargeTemperatureLimit?: Measured;
  /** Of the big-end bearing [m]. */
  readonly bigEndDiameter?: Measured;
  readonly bigEndWidth?: Measured;
  /** Preload of all fasteners round one cylinder [N], and the diameter that the gasket seals [m]. */
  readonly clampForce?: Measured;
  readonly sealDiameter?: Measured;
  /** Force that one rod may carry again and again, pressed and pulled [N]. */
  readonly rodCompression?: Measured;
  readonly rodTension?: Measured;
  /** Sum of the straps' downward pull [N]. */
  readonly strapForce?: Measured;
  /** Largest tractive force over load that the tyres hold on these rolls [1]. */
  readonly grip?: Measured;
}
