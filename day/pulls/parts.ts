import type { Measured } from '../../core/quantities/index.ts';

/** Which fuel is burnt: decides heating value, air need, knock and charge cooling where nothing better is stated. */
export type FuelName = 'petrol' | 'ethanol blend' | 'methanol' | 'methane' | 'LPG' | 'diesel';

/** State of a plug's electrodes: square edges, a thin wire, or rounded by use. */
export type Electrodes = 'new' | 'fine wire' | 'worn';

/** What a charge cooler gives its heat to. */
export type CoolerKind = 'air-to-air' | 'water-to-air';

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
  /** Atoms of a fuel that is none of the named ones, such as `C7H13.2O0.1`, and its lower heating value [J/kg]. */
  readonly fuelComposition?: string;
  readonly heatingValue?: Measured;
  /** Name of a file in the day's folder: flow, pressure ratio, efficiency by speed line. */
  readonly compressorMap?: string;
  /** Outer diameter of the compressor wheel [m]. */
  readonly compressorWheel?: Measured;
  /** Highest speed of the wheel's tip [m/s], and share of the speed limit that is kept in hand [1]. */
  readonly compressorTipLimit?: Measured;
  readonly compressorSpeedMargin?: Measured;
  /** Equal compressors side by side; the map is that of one. */
  readonly compressors?: number;
  /** Effective flow area of all turbines together [m²] and their efficiency with the shaft's [1]. */
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
  /** What takes the heat of the charge; with a tank: its water [kg], ice put into it [kg], the water's temperature before the ice [K], flow of its pump [m³/s]. */
  readonly coolerKind?: CoolerKind;
  readonly coolerWater?: Measured;
  readonly coolerIce?: Measured;
  readonly coolerWaterTemperature?: Measured;
  readonly coolerPumpFlow?: Measured;
  /** In which the warmth that a pull left falls to a third, fans on and no load [s]. */
  readonly coolerTimeConstant?: Measured;
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
  /** Between the high-voltage side and ground, plug and lead included [F], and share of the stored energy that reaches it [1]. */
  readonly coilCapacitance?: Measured;
  readonly coilTransfer?: Measured;
  /** Largest share of the time that a coil may carry current [1], and sparks of one coil in a cycle: 2 where it serves two cylinders. */
  readonly largestCoilDuty?: Measured;
  readonly sparksPerCycle?: number;
  /** Thread of the plugs that are fitted, and of those the engine was made with [m]. */
  readonly plugThread?: Measured;
  readonly headThread?: Measured;
  /** Heat-range steps by which the plugs are colder than those the engine was made with. */
  readonly plugStepsColder?: number;
  /** Highest boost [Pa above ambient] and power at the crankshaft [W] of the engine as it was made. */
  readonly nativeBoost?: Measured;
  readonly nativePower?: Measured;
  /** State of the plugs' electrodes. */
  readonly electrodes?: Electrodes;
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
  /** Largest load over projected area that its shells stand [Pa]. */
  readonly bearingLoadLimit?: Measured;
  /** Highest mean piston speed allowed [m/s], engine speeds at which valves leave their cams and that a drive belt stands [rad/s]. */
  readonly pistonSpeedLimit?: Measured;
  readonly valveFloatSpeed?: Measured;
  readonly beltSpeedLimit?: Measured;
  /** Preload of all fasteners round one cylinder [N], and the diameter that the gasket seals [m]. */
  readonly clampForce?: Measured;
  readonly sealDiameter?: Measured;
  /** Force that one rod may carry again and again, pressed and pulled [N]. */
  readonly rodCompression?: Measured;
  readonly rodTension?: Measured;
  /** Bolts of one rod, and the preload of one of them [N]. */
  readonly rodBolts?: number;
  readonly rodBoltPreload?: Measured;
  /** I-section of a rod's shank where it is smallest: depth in the plane in which the crank turns, width across it, thickness of one flange and of the web [m]. */
  readonly shankDepth?: Measured;
  readonly shankWidth?: Measured;
  readonly shankFlange?: Measured;
  readonly shankWeb?: Measured;
  /** Stress at which the rod's steel yields [Pa]. */
  readonly shankYield?: Measured;
  /** Sum of the straps' downward pull [N]. */
  readonly strapForce?: Measured;
  /** How many straps share it; how far below the horizontal each leads to its anchor, and in plan off the vehicle's axis [rad]. */
  readonly strapCount?: number;
  readonly strapAngle?: Measured;
  readonly strapPlanAngle?: Measured;
  /** Working load of one strap or of its anchor, the smaller of the two [N]. */
  readonly strapRating?: Measured;
  /** Largest load that the tyres and bearings of the driven axle may carry [N]. */
  readonly axleLoadLimit?: Measured;
  /** Largest tractive force over load that the tyres hold on these rolls [1]. */
  readonly grip?: Measured;
  /** Of the tread in the pulls [K]; above the knee [K] grip falls by so much per kelvin [1]. */
  readonly treadTemperature?: Measured;
  readonly gripKnee?: Measured;
  readonly gripPerKelvin?: Measured;
}
