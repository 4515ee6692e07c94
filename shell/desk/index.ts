// What is not listed here is private to the package.
export type { ColumnReading, DaySummary, Desk, EntryExport, FileReading, Progress, Work } from './desk.ts';
export { type ExportedPart, exportedCurves, exportedRecord } from './export-entry.ts';
export { type DeskOptions, openDesk } from './open-desk.ts';
export { fileReading, type ReadTable, readTable, recordingOf } from './reading.ts';
