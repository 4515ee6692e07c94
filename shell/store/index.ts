// What is not listed here is private to the package.
export type { CacheOptions } from './cache.ts';
export { columnSetOf, type WrittenColumn } from './day-folder/column-set.ts';
export type { Field, Form } from './day-folder/field.ts';
export { keyOf, SECTIONS } from './day-folder/fields.ts';
export { type FolderReading, type LogFile, readDayFolder } from './day-folder/folder.ts';
export { daySchema } from './day-folder/json-schema.ts';
export { keyTable } from './day-folder/key-table.ts';
export { nearMiss } from './day-folder/near-miss.ts';
export { parseDayText } from './day-folder/parse.ts';
export { isLog, isSoundName, proposeDay } from './day-folder/propose.ts';
export { readField } from './day-folder/read-field.ts';
export { updateDayText } from './day-folder/update.ts';
export { checkedFacts, writeDayText } from './day-folder/write.ts';
export { type FileBytes, updateDayFile, writeDayFolder } from './day-folder/write-folder.ts';
export type {
  Cache,
  CacheParts,
  Change,
  DayFile,
  FactsState,
  HistoryLine,
  NewDay,
  Source,
  Store,
  StoredDay,
} from './interface.ts';
export { sha256 } from './raw.ts';
export { factsDigest } from './record.ts';
export { DATABASE_FILE, openStore, type StoreOptions } from './store.ts';
