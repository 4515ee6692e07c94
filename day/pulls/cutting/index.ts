// What is not listed here is private to the folder.
export { type Cut, type CutFacts, cutRecord } from './cut.ts';
export { type Drive, driveOf, leadTrack } from './drive.ts';
export { type Gear, type GearTable, gearOfRatio, gearsOf, gearTable, type RatioSeries } from './gears.ts';
export { type LowForceRatio, lowForceRatio, type RatioWindow } from './low-force-ratio.ts';
