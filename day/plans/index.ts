// What is not listed here is private to the package.
export {
  type GearAdvice,
  type GearLimit,
  type GearMargin,
  type GearOffered,
  type GearsAsked,
  gearAdvice,
} from './advice/rolls.ts';
export { type AgainstUsual, type PlugAdvice, plugAdvice } from './advice/spark.ts';
export { type StrapAdvice, type TractionAdvice, tractionAdvice, WANTED_RESERVE } from './advice/traction.ts';
export { taughtModel } from './evidence/taught-model.ts';
export { type PowerModelInput, powerModel } from './expected/power-model.ts';
export { highestPressure } from './limits/applies.ts';
export {
  compressorPicture,
  compressorPoints,
  crankPicture,
  foresightOf,
  goal,
  largestPressure,
  limitsAt,
  nextLimits,
  pressureRoom,
  sparkMarginMap,
} from './limits/at.ts';
export {
  type CoolerReady,
  type CoolerSeries,
  coolerSeriesOf,
  type SeriesPull,
  type SeriesQuestion,
} from './limits/cooler-series.ts';
export { type CoolerState, coolerStateOf } from './limits/cooler-state.ts';
export type { Foresight } from './limits/foresight.ts';
export type { Goal, GoalAnswer, GoalRow, OnTheWay } from './limits/goal.ts';
export { type HeadLiftSeen, headLiftPressureOf } from './limits/head-lift-evidence.ts';
export { type KnockSeen, knockIntegralLimitOf } from './limits/knock-evidence.ts';
export type { LargestPressure, PressureQuestion } from './limits/largest-pressure.ts';
export type { Limit, LimitName, NextLimit } from './limits/limit.ts';
export { LIMIT_NAMES } from './limits/limits-of.ts';
export type { NextQuestion } from './limits/next-limits.ts';
export type { CompressorPicture, MapLine } from './limits/pictures/compressor-picture.ts';
export type { CompressorPoints } from './limits/pictures/compressor-points.ts';
export type { CrankPicture } from './limits/pictures/crank-picture.ts';
export { type SoakRecovery, soakRecoveryOf } from './limits/pictures/soak-recovery.ts';
export type { MapAxes, SparkMarginMap } from './limits/pictures/spark-margin-map.ts';
export type { PressureRoom, SetBy, SpeedRoom } from './limits/pressure-room.ts';
export { type ScaleRead, scaleOf } from './limits/scale-of.ts';
export { type EngineResult, type ScaledResult, type ScaledTo, scaled } from './limits/scaled.ts';
export { type BreakupSeen, sparkDemandFactorOf } from './limits/spark-evidence.ts';
export { judgedSpeeds, usualSpeeds } from './limits/speeds.ts';
export { type StepRead, stepOf } from './limits/step-of.ts';
export { type DayModelInput, dayModel } from './model/day-model.ts';
export type {
  EngineModel,
  Habits,
  KnownValue,
  PredictedCurve,
  PredictedLine,
  Prediction,
  Step,
} from './model/engine-model.ts';
export { knownValues } from './model/known-values.ts';
export { mapOfTable } from './model/map-of-table.ts';
export { type Observation, observationsOf } from './model/observations.ts';
export { predict } from './model/predict.ts';
export { priorModel } from './model/prior-model.ts';
