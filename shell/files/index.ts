// What is not listed here is private to the package.
export type { Progress, Watch } from './bytes-source.ts';
export { type ExportChannel, type ExportFormat, exportChannels, textCell } from './export-channels.ts';
export { isSoundFile, type OpenSoundOptions, openSound } from './open-sound.ts';
export { fileSha256, type OpenOptions, openTable } from './open-table.ts';
export { type ColumnScan, type FileScan, loadColumns, type ScanOptions, scanFile } from './scan.ts';
export { sha256Hex } from './sha256.ts';
