// What is not listed here is private to the package.
export {
  type CipmAir,
  type CipmDensity,
  cipmDensity,
  DRY_AIR_GAS_CONSTANT,
  type MoistGas,
  moistAirDensity,
  WATER_GAS_CONSTANT,
} from './air/density.ts';
export {
  dryAirPressure,
  humidityRatio,
  relativeHumidity,
  vapourPressure,
  vapourPressureOfHumidityRatio,
  waterMoleFraction,
} from './air/humidity.ts';
export {
  AMBIENT_RULES,
  ambientFactors,
  ambientRule,
  type CorrectionParts,
  correctedPower,
  type FactorSensitivity,
  factorSensitivity,
  type MeasuredAmbient,
  measuredFactor,
  type RuleLine,
} from './air/rules/ambient-rules.ts';
export { BOOST_STATEMENTS, type BoostStatement } from './air/rules/boost-statements.ts';
export { din70020 } from './air/rules/din-70020.ts';
export {
  type AtmosphericInput,
  atmosphericFactor,
  correctedFuelPerCycle,
  engineFactor,
  type FuelPerCycle,
  iso1585Compression,
  type TestValidity,
  testValidity,
} from './air/rules/iso-1585-compression.ts';
export { eu134Spark, iso1585Spark } from './air/rules/iso-1585-spark.ts';
export type {
  AmbientRule,
  AmbientRuleId,
  AmbientState,
  BoostClaim,
  EngineFactorBand,
  RuleEngine,
  RuleFactor,
  RuleInput,
  RuleWindow,
} from './air/rules/rule.ts';
export { saeJ607 } from './air/rules/sae-j607.ts';
export {
  j1349EfficiencyFactor,
  j1349IndicatedFactor,
  saeJ1349,
  saeJ1349MeasuredFriction,
} from './air/rules/sae-j1349.ts';
export { noCorrection, temperatureOnly } from './air/rules/temperature-only.ts';
export {
  dewPoint,
  hardyDewPoint,
  regulationSaturationPressure,
  saturationPressure,
} from './air/saturation-pressure.ts';
export {
  densityAltitude,
  geometricAltitude,
  geopotentialAltitude,
  pressureAltitude,
  type SeaLevelReport,
  type StandardAir,
  standardAtmosphere,
  stationPressure,
} from './air/standard-atmosphere.ts';
export { type MoistAir, vapourPressureOfWetBulb, type WetBulbReading, wetBulb } from './air/wet-bulb.ts';
export {
  airMassFlow,
  type MeasuredAirFlow,
  type MeasuredSpeedDensity,
  measuredAirMassFlow,
  type SpeedDensity,
} from './charge-air/air-mass-flow.ts';
export {
  type ChargeState,
  type CooledCharge,
  type CoolerCore,
  chargeSideEffectiveness,
  cooledCharge,
  coolerEffectiveness,
  measuredEffectiveness,
} from './charge-air/charge-cooler.ts';
export {
  AIR,
  type Compression,
  type CompressionReading,
  compressorEfficiency,
  compressorOutletTemperature,
  compressorPower,
  EXHAUST,
  efficiencyOfPolytropic,
  isentropicRise,
  type PerfectGas,
} from './charge-air/compression.ts';
export {
  type CompressorDemand,
  type CompressorDuty,
  compressorDemand,
  type DemandedSpeed,
  type DemandSpread,
  demandedSpeed,
} from './charge-air/compressor-demand.ts';
export { type CompressorMap, compressorMap, type MapInput } from './charge-air/compressor-map.ts';
export { CHARGE_SIDE_SHARE, coreConductance, type KnownCore } from './charge-air/core-conductance.ts';
export {
  actualFlow,
  actualSpeed,
  correctedFlow,
  correctedSpeed,
  type GasState,
  MAP_REFERENCES,
} from './charge-air/corrected-flow.ts';
export {
  approximateCrossFlow,
  effectiveness,
  type FlowArrangement,
  type TransferUnits,
  transferUnits,
} from './charge-air/effectiveness.ts';
export type { MapBorder } from './charge-air/map-border.ts';
export { type MapColumn, type MapColumns, SAME_LINE, type SpeedLine } from './charge-air/map-lines.ts';
export {
  type FlowMargins,
  flowMargins,
  MAP_SPEED_SPREAD,
  type MapAnswers,
  type MapPoint,
  type MapQueries,
  type MeasuredMapQuery,
  mapPoint,
  mapPointsInto,
  measuredMapSpeed,
} from './charge-air/map-point.ts';
export {
  criticalPressureRatio,
  type IsentropicState,
  isentropicState,
  massFlowFunction,
  type Nozzle,
  nozzleFlow,
} from './charge-air/nozzle-flow.ts';
export { dryAirDensity, type KnownLoss, pressureLoss } from './charge-air/pressure-loss.ts';
export { shaftSpeedMargin, speedOfTip, tipSpeed, USUAL_TIP_LIMIT } from './charge-air/tip-speed.ts';
export {
  type ExhaustState,
  gateArea,
  shutGatePressure,
  type Turbine,
  type TurbineBalance,
  turbineBalance,
  turbineFlow,
  turbinePower,
} from './charge-air/turbine.ts';
export {
  ICE_MELTING_HEAT,
  type TankLoad,
  tankAfter,
  WATER_HEAT_CAPACITY,
  type WaterTank,
  withIce,
} from './charge-air/water-tank.ts';
export { laminarFlameSpeed } from './cycle/burn/flame-speed.ts';
export { type IdealCycle, idealEfficiency } from './cycle/closed/ideal-cycles.ts';
export { ignitionDelay, knockIntegral } from './cycle/closed/ignition-delay.ts';
export type { StepCounts } from './cycle/closed/workspace.ts';
export { woschniCoefficient, woschniSpeed } from './cycle/closed/woschni.ts';
export type { CycleEngine, CycleFit, ValveAngles, ValveTiming } from './cycle/engine/engine.ts';
export { valveAngles } from './cycle/engine/engine.ts';
export { type FrictionLaw, frictionPressure, USUAL_FRICTION } from './cycle/engine/friction.ts';
export { CYCLE_PARAMETERS, type CycleParameter, USUAL_FIT, withParameters } from './cycle/engine/parameters.ts';
export type { CycleResult, CycleTrace } from './cycle/engine/result.ts';
export { brakeTorque, type CycleSolver, cycleSolver, type SolverOptions } from './cycle/engine/solver.ts';
export type { CycleState, Phasing } from './cycle/engine/state.ts';
export {
  blendedFuel,
  type Fuel,
  formationEnthalpy,
  heatingValueFromFormation,
  stoichiometricRatio,
} from './cycle/gas/fuel.ts';
export {
  DIESEL,
  ETHANOL,
  ethanolBlend,
  LPG,
  METHANE,
  METHANOL,
  type OwnFuel,
  ownFuel,
  petrol,
} from './cycle/gas/fuels.ts';
export { type GasModel, gasModel, MIXTURE_RANGE } from './cycle/gas/gas-model.ts';
export { type CylinderShape, cylinderVolume } from './cycle/mechanism/cylinder.ts';
export {
  meanPistonSpeed,
  pistonAcceleration,
  pistonArea,
  pistonSpeed,
  pistonTravel,
  type SliderCrank,
} from './cycle/mechanism/slider-crank.ts';
export { crankPhaseFinding, LOSS_ANGLE, mechanicalEfficiencyFinding } from './cycle/pressure/plausibility.ts';
export {
  type AngleRange,
  apparentHeatRelease,
  type CylinderTrace,
  indicatedPressure,
  type Polytrope,
  peakOf,
  polytropicExponent,
} from './cycle/pressure/trace.ts';
export { effectiveMass, type RotatingParts, surfaceAcceleration } from './driveline/effective-mass.ts';
export {
  engineSpeedPerSurfaceSpeed,
  overallRatio,
  overallRatioOfMeshes,
  type RatioInput,
} from './driveline/overall-ratio.ts';
export { type EnginePower, enginePower, type WheelPower } from './driveline/torque-loss.ts';
export { type Blend, type BlendPart, blendOf } from './fuel/blend.ts';
export { type DeadTime, type DeadTimeRow, deadTime, deadTimeOf } from './fuel/dead-time.ts';
export {
  type InjectorLine,
  type InjectorNeed,
  type InjectorRating,
  injectedMass,
  injectorDuty,
  injectorFlow,
  injectorFlowNeeded,
  injectorPressureDifference,
  pulseWidth,
} from './fuel/injector.ts';
export {
  type InjectorLoad,
  type InjectorUse,
  injectorUse,
  leastDifference,
  type MeasuredInjectorLoad,
  measuredInjectorDuty,
  mostFuel,
  pressureMargin,
} from './fuel/injector-load.ts';
export {
  brakeEfficiency,
  equivalenceRatio,
  evaporationCooling,
  fuelFlowFor,
  fuelFlowOfAir,
  type GaugeReading,
  gaugeCorrected,
  lambdaOf,
} from './fuel/mixture.ts';
export { measuredUpTo, type Pump, type PumpLine, pumpFlow, pumpOf } from './fuel/pump.ts';
export { type FeedLoss, type FuelSupply, type RailState, railState, supplyMargin } from './fuel/rail.ts';
export { type DecayFit, type DecayInput, decayFit, FEWEST_DECAY_SAMPLES } from './heat/decay-fit.ts';
export { type HeatLump, type HeatSoak, lumpTemperature, soakAfter, timeToTemperature } from './heat/first-order.ts';
export { waitFor } from './heat/wait-for.ts';
export { burntGasSoundSpeed, CAVITY_MODES, knockFrequencies } from './knock/cavity-resonance.ts';
export {
  amplitudeOfLife,
  type BasquinLine,
  basquinOfReversals,
  basquinOfStrengths,
  cyclesToFailure,
} from './loads/basquin.ts';
export { bigEndCycle } from './loads/bearing-cycle.ts';
export {
  type BearingCycle,
  type FilmOrbit,
  filmOrbit,
  type JournalBearing,
  specificLoad,
} from './loads/bearing-film.ts';
export {
  type BoltedJoint,
  type JointState,
  jointState,
  partingForce,
  preloadOfStretch,
  preloadOfTorque,
  threadStressArea,
} from './loads/bolted-joint.ts';
export { type CycleLoads, cycleLoads, type ExtremeLoad, type PressureTrace } from './loads/cycle-loads.ts';
export {
  DAMAGE_AT_FAILURE,
  type Damage,
  type DamageInput,
  damageIndex,
  damageSum,
  LIFE_SCATTER,
  repeatsTo,
  type StressBlock,
} from './loads/damage.ts';
export {
  type FatigueFactors,
  type FatigueStrength,
  fatigueFactors,
  type MeanStressRule,
  reversedAmplitude,
  type StressSwing,
} from './loads/fatigue-criteria.ts';
export { GASKET_RESERVE, type HeadClamp, type HeadMargin, headMargin, usualPeakPressure } from './loads/head-clamp.ts';
export { type MeasuredRodLoads, type MeasuredRodState, measuredRodLoads } from './loads/measured-rod.ts';
export { dynamicViscosity, kinematicViscosity, type ViscosityPoint } from './loads/oil-viscosity.ts';
export { type PullBlocks, type PullLoads, pullBlocks, type SectionForces, swingOfForces } from './loads/pull-blocks.ts';
export { type CycleCount, countsByRange, type LoadCycle, rainflow } from './loads/rainflow.ts';
export { type ColumnLimit, columnLimit, type RodColumn } from './loads/rod-column.ts';
export {
  type CrankForces,
  type CrankTrain,
  crankForces,
  reciprocatingForce,
  rodForceAtTop,
  speedOfTension,
} from './loads/rod-forces.ts';
export { type CoastDown, coastDownTime } from './rolls/coast-down.ts';
export {
  type GearChoice,
  type GearOffer,
  type GearQuestion,
  gearChoice,
  KEPT_MARGIN,
  surfaceCurve,
  type TorqueCurve,
} from './rolls/gear-choice.ts';
export { type RoadLoad, type RoadState, roadForce, roadLoadForce } from './rolls/road-load.ts';
export {
  equivalentMass,
  inertiaPower,
  inertiaTorque,
  type Rotation,
  rotationEnergy,
  shaftPower,
  shaftTorque,
  surfacePower,
  tangentialForce,
} from './rolls/roll-power.ts';
export {
  forceCapability,
  type RollerLimit,
  type RollerLimits,
  type RollerMargin,
  rollerMargin,
  type SurfaceCurve,
  speedOfFullForce,
} from './rolls/roller-capability.ts';
export { type AvailableVoltage, availableVoltage, type MeasuredCoil } from './spark/available-voltage.ts';
export {
  evenFieldVoltage,
  evenFieldVoltageOfDensity,
  type GasGap,
  PASCHEN_AIR,
  paschenMinimum,
  paschenVoltage,
  relativeDensity,
} from './spark/breakdown.ts';
export { chargeAtSpark, type TrappedCharge } from './spark/charge-state.ts';
export {
  type Coil,
  coilEnergy,
  coilHeat,
  dwellForCurrent,
  type FiringPattern,
  highestSpeedOfDwell,
  longestDwell,
  primaryCurrent,
  primaryHeat,
  type Secondary,
  secondaryVoltage,
  timeBetweenSparks,
  wastedSparkVoltage,
} from './spark/coil.ts';
export {
  correlationVoltage,
  type DemandForm,
  ELECTRODE_FACTORS,
  type ElectrodeState,
  FORM_SPREAD,
  mixtureFactor,
  type SparkDemand,
  type SparkDemandInput,
  sparkDemand,
} from './spark/demand.ts';
export { type DwellLimit, type DwellQuestion, dwellLimit } from './spark/dwell-limit.ts';
export {
  type MarginGrid,
  type MarginGridInput,
  SPARK_SCATTER,
  type SparkMargin,
  sparkMargin,
  sparkMarginGrid,
} from './spark/margin.ts';
export { type MeasuredGap, measuredSparkDemand } from './spark/measured-demand.ts';
export {
  colderStepsForBoost,
  colderStepsForOutput,
  PLUG_RULE,
  PLUG_TIP,
  type PlugRange,
  type PlugReach,
  plugReach,
  usualPlugGap,
} from './spark/plug-advice.ts';
export { type TesterKind, testerVoltage } from './spark/tester-gap.ts';
export {
  type AddedLoad,
  addedLoad,
  ballastFor,
  KEPT_TRACTION,
  type LoadQuestion,
} from './traction/added-load.ts';
export { type Cradle, type CradleForces, cradleForces } from './traction/cradle.ts';
export { longitudinalSlip, type SlipFromRatio, type SlipInput, slipFromRatio } from './traction/slip.ts';
export {
  type HeldVehicle,
  type Strap,
  type StrapHold,
  type StrapPull,
  strapHold,
  strapPull,
  strapReserve,
  tensionForDownforce,
} from './traction/straps.ts';
export {
  adhesionAt,
  atTheLimit,
  forceBesideLateral,
  type TractionMargin,
  type TreadAdhesion,
  tractionMargin,
  tyreLoad,
  USUAL_ADHESION,
} from './traction/tractive-limit.ts';
