// What is not listed here is private to the package.
export type { ColumnReading, DayEngine, DaySummary, Desk, EntryExport, FileReading, Progress, Work } from './desk.ts';
export { type ExportedPart, exportedCurves, exportedRecord } from './export-entry.ts';
export { type DeskOptions, openDesk } from './open-desk.ts';
export { decidedTogether, fileReading, type ReadTable, readTable, recordingOf, recordingsOf } from './reading.ts';
export { isForSoundReader, soundReading } from './sounds.ts';
