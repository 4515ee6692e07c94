// What is not listed here is private to the package.
export type { Detection, Detector, Fault, FaultWindow, Feature, StopClass, Subject } from './detector.ts';
export { detect } from './detector.ts';
export { DETECTORS, detections } from './detectors.ts';
export { type PullScene, pullScene, type SceneFacts, type SceneInput, type SlipReference } from './scene/scene.ts';
export { type Separation, type SeparationAnswer, separatingQuestions } from './separation.ts';
export { type Limits, limitsWith, THRESHOLDS, type Threshold, type ThresholdName } from './thresholds.ts';
