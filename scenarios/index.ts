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
export { type Decoy, decoyNames } from './virtual/decoys.ts';
export { allFaults, drawVirtual, STRENGTHS } from './virtual/draw.ts';
export { ENGINE_FAULTS, type EngineFault } from './virtual/faults.ts';
export { SENSOR_FAULTS, type SensorFault } from './virtual/faults-sensors.ts';
export { makeVirtualDay } from './virtual/make.ts';
export type { VirtualFault, VirtualOptions, WantedFault } from './virtual/options.ts';
