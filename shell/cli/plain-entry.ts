import type { EntryReport } from '../../day/reports/index.ts';

/** An entry for programs: a verdict without its pull, which stands among the entry's pulls under the same index. */
export function plainEntry(entry: EntryReport) {
  return { ...entry, verdicts: entry.verdicts.map(({ pull: _pull, ...verdict }) => verdict) };
}
