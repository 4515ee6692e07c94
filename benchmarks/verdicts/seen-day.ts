import { withDayClocks } from '../../day/pulls/index.ts';
import { judgeDay, openedEntry, resultsOf } from '../../day/reports/analyse-day.ts';
import type { DayVerdictsInput } from '../../day/verdicts/day-verdicts.ts';
import { type DayVerdicts, dayVerdicts } from '../../day/verdicts/index.ts';
import type { MadeDay } from '../../scenarios/index.ts';
import { logsOf } from '../../scenarios/testing/read-day.ts';
import { parseDayText } from '../../shell/store/day-folder/parse.ts';

/**
 * An invented day as far as it is known before any verdict, from its raw bytes, without any person deciding anything. The turbocharger's limit, which no
 * log holds, is stated as its owner would.
 */
export function readOf({ files, truth }: MadeDay): DayVerdictsInput {
  const file = files.find(({ name }) => name === 'day.yaml');
  const read = parseDayText(new TextDecoder().decode(file?.bytes));
  if (!read.ok) throw new Error(`day.yaml: ${read.refusal.message}`);
  const limit = truth.turboLimit;
  const stated = limit === undefined ? {} : { 'turbo.limit': `${limit.toFixed(0)} rad/s` };
  const facts = { ...read.value, thresholds: { ...stated, ...read.value.thresholds } };
  const logs = logsOf(files, facts);
  const opened = new Map(facts.entries.map((entry) => [entry.id, openedEntry(entry, facts, logs)]));
  const rated = withDayClocks(opened);
  return { facts, rated, results: resultsOf(judgeDay(facts, logs, { rated })) };
}

/** The verdicts of an invented day. */
export function verdictsOf(made: MadeDay): DayVerdicts {
  return dayVerdicts(readOf(made));
}
