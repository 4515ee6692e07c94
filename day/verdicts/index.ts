// What is not listed here is private to the package.
export {
  ALL_MEANINGS,
  type CoverageInput,
  type CoverageRow,
  coverageOf,
  type Lacking,
  type Reach,
  type Unparted,
} from './coverage/coverage-of.ts';
export { type DayLimits, dayLimits, inForce, isSettable, SETTABLE, type SettableName } from './day-limits.ts';
export { type DayVerdictsInput, dayVerdicts, verdictSteps } from './day-verdicts.ts';
export type { Detection, Detector, Fault, FaultWindow, Feature, StopClass, Subject, Voids } from './detector.ts';
export { detect } from './detector.ts';
export { DETECTORS, detections } from './detectors.ts';
export type { CoastChange } from './health/coasts/coast-change.ts';
export type { CoastHealth } from './health/coasts/coast-health.ts';
export type { DragChange, EngineDrag } from './health/coasts/engine-drag.ts';
export type { CoastReading } from './health/coasts/reading.ts';
export { type DayHealth, dayHealth, type HealthInput } from './health/day-health.ts';
export type { HealthEntry } from './health/entries.ts';
export type { HealthLine, LinePoint } from './health/lines/health-line.ts';
export { cellValue, manifoldPressure, type PullCell, type PullState, SPEED_STEP } from './health/pull-state.ts';
export type { Gate, PullReadiness } from './health/readiness/gates.ts';
export {
  HEALTH_FINDINGS,
  type HealthDecision,
  type HealthFinding,
  type HealthFindingKind,
  type HealthUnknown,
  type HealthValue,
} from './health/result.ts';
export type { PatternFit, PatternName } from './health/shortfall/pattern.ts';
export {
  type PowerPrediction,
  type PowerQuestion,
  type Predict,
  predictBySensitivities,
} from './health/shortfall/predict.ts';
export type { Shortfall } from './health/shortfall/shortfall.ts';
export type { Stall } from './health/stalls/stall.ts';
export {
  HEALTH_THRESHOLDS,
  type HealthLimits,
  type HealthThresholdName,
  healthLimitsWith,
} from './health/thresholds.ts';
export { BELIEVED, isBelieved, pullVerdict } from './pull-verdict.ts';
export {
  type PullScene,
  pullScene,
  type SceneFacts,
  type SceneInput,
  type SlipReference,
  spoiledBy,
} from './scene/scene.ts';
export { type Separation, type SeparationAnswer, separatingQuestions } from './separation.ts';
export { type Limits, limitsWith, THRESHOLDS, type Threshold, type ThresholdName } from './thresholds.ts';
export type {
  DayVerdicts,
  Evidence,
  Hypothesis,
  Inseparable,
  NextCheck,
  Occurrence,
  PullVerdict,
  Validity,
  VerdictInput,
} from './verdict.ts';
export { CHECKS, type Check } from './weighing/checks.ts';
