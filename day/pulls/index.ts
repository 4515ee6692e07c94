// What is not listed here is private to the package.
export { type FillingPoint, fillingCheck, fillingPoints } from './air/filling.ts';
export { conditionsOf } from './conditions/conditions.ts';
export type { BudgetLine, Peak, PowerCurve } from './curve.ts';
export { type Cut, cutRecord } from './cutting/cut.ts';
export { type LowForceRatio, lowForceRatio, type RatioFacts } from './cutting/low-force-ratio.ts';
export { dayClockSteps, withDayClocks } from './entry/day-clocks.ts';
export { type DayKnowledge, entryResult } from './entry/entry-result.ts';
export { entrySound, isSoundRecording } from './entry/entry-sound.ts';
export type { JoinedEntry } from './entry/join-entry.ts';
export type { JoinedSound } from './entry/join-sound.ts';
export { type EntryLogs, entryLogs } from './entry/logs.ts';
export { type OpenEntry, openEntry } from './entry/open-entry.ts';
export { secondsOfDay } from './entry/seconds-of-day.ts';
export { withSensorDelays } from './entry/sensor-delays.ts';
export { daySlipReference } from './entry/slip-reference.ts';
export type {
  AmbientFacts,
  AmbientRuleName,
  DayFacts,
  EngineFacts,
  EntryFacts,
  PlaceFacts,
  RollerFacts,
  VehicleFacts,
} from './facts.ts';
export { coastDownLosses, lossForce } from './losses/coast-down.ts';
export { type DayCoast, type LossModel, lossModel } from './losses/loss-model.ts';
export type { CoolerKind, Electrodes, FuelName, PartsFacts } from './parts.ts';
export { DEFAULTS } from './power/chain-inputs.ts';
export { withoutWindows } from './power/without-windows.ts';
export type { JoinedRecord, Track } from './record.ts';
export type { Conditions, EntryResult, FactorLine, LossFit, PullResult } from './result.ts';
export type { Segment } from './segment.ts';
export { keptStep, type StepMemory } from './steps.ts';
