// What is not listed here is private to the package.
export { dayLimits } from './day-limits.ts';
export { type DayVerdictsInput, dayVerdicts, verdictSteps } from './day-verdicts.ts';
export type { Detection, Detector, Fault, FaultWindow, Feature, StopClass, Subject, Voids } from './detector.ts';
export { detect } from './detector.ts';
export { DETECTORS, detections } from './detectors.ts';
export { BELIEVED, isBelieved, pullVerdict } from './pull-verdict.ts';
export { type PullScene, pullScene, type SceneFacts, type SceneInput, type SlipReference } from './scene/scene.ts';
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
