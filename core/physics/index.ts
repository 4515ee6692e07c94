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
export { effectiveMass, type RotatingParts, surfaceAcceleration } from './driveline/effective-mass.ts';
export {
  engineSpeedPerSurfaceSpeed,
  overallRatio,
  overallRatioOfMeshes,
  type RatioInput,
} from './driveline/overall-ratio.ts';
export { type EnginePower, enginePower, type WheelPower } from './driveline/torque-loss.ts';
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
  brakeEfficiency,
  equivalenceRatio,
  evaporationCooling,
  fuelFlowFor,
  fuelFlowOfAir,
  type GaugeReading,
  gaugeCorrected,
  lambdaOf,
} from './fuel/mixture.ts';
export { type CoastDown, coastDownTime } from './rolls/coast-down.ts';
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
export { longitudinalSlip, type SlipFromRatio, type SlipInput, slipFromRatio } from './traction/slip.ts';
