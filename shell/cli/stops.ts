import type { EntryReport } from '../../day/reports/index.ts';

/** True when a pull calls for a hold or for the end of the day and nobody overruled it. */
export function asksToStop(entries: readonly Pick<EntryReport, 'verdicts'>[]): boolean {
  return entries.some(({ verdicts }) => verdicts.some(({ stopClass }) => stopClass >= 2));
}
