// What is not listed here is private to the package.
export { airInWords } from './air-words.ts';
export {
  analyseDay,
  type DayLogs,
  judgeDay,
  judgingSteps,
  METHOD,
  openedEntry,
  type RatedDay,
  resultsOf,
  withVerdicts,
} from './analyse-day.ts';
export { CAUTIONS } from './cautions.ts';
export type { DayReport, EntryReport, UnreadLog } from './day-report.ts';
export { FAULT_TITLES, STOP_WORDS } from './fault-titles.ts';
export { HEALTH_TITLES } from './health-titles.ts';
export { type RuledEntry, sameRule } from './same-rule.ts';
export { bestPeak, entrySentence, pullSentence, unreadText } from './sentence.ts';
export { featureTitle, THRESHOLD_TITLES } from './threshold-titles.ts';
export { borderText, occurrenceText, probabilityText, verdictSentence, windowsText } from './verdict-sentence.ts';
export { peakText, withBand } from './words.ts';
