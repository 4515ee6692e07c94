export { makePlateauDay, type PlateauOptions } from './plateau/make.ts';
export type { Rig } from './rig/rig.ts';
export { makeSimpleDay, type SimpleOptions } from './simple/make.ts';
export {
  type DayTruth,
  type EntryTruth,
  type InjectedFault,
  type InstrumentErrors,
  type MadeDay,
  type MadeFile,
  type TruthCurve,
  truthAt,
} from './truth.ts';
