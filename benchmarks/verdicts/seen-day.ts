import { withDayClocks } from '../../day/pulls/index.ts';
import { judgeDay, openedEntry, resultsOf } from '../../day/reports/analyse-day.ts';
import { type DayVerdicts, dayVerdicts } from '../../day/verdicts/index.ts';
import type { MadeDay } from '../../scenarios/index.ts';
import { logsOf } from '../../scenarios/testing/read-day.ts';
import { parseDayText } from '../../shell/store/day-folder/parse.ts';

/**
 * The verdicts of an invented day, from its raw bytes, without any person deciding anything. The turbocharger's limit, which no log holds, is
 * stated as its owner would.
 */
export function verdictsOf({ files, truth }: MadeDay): DayVerdicts {
  const file = files.find(({ name }) => name === 'day.yaml');
  const read = parseDayText(new TextDecoder().decode(file?.bytes));
  if (!read.ok) throw new Error(`day.yaml: ${read.refusal.message}`);
  const limit = truth.turboLimit;
  const stated = limit === undefined ? {} : { 'turbo.limit': `${limit.toFixed(0)} rad/s` };
  const facts = { ...read.value, thresholds: { ...stated, ...read.value.thresholds } };
  const logs = logsOf(files, facts);
  const opened = new Map(facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, logs)]));
  const rated = withDayClocks(opened);
  const report = judgeDay(facts, logs, { rated });
  return dayVerdicts({ facts, rated, results: resultsOf(report) });
}
