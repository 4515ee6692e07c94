import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { DayFacts } from '../../day/pulls/index.ts';
import { readThreshold } from '../server/index.ts';
import type { Asked } from './command.ts';

/** `--set`, for the help of the commands that judge. */
export const SET_HELP =
  '  --set TEXT         a limit of your own, with its unit: --set "boost-overshoot.pressure = 10 kPa"; repeat it for more';

/** `--set` and `--thresholds`. */
export const THRESHOLD_HELP = [
  SET_HELP,
  '  --thresholds       list every limit with its value, ours, and where ours comes from, and stop',
];

export const THRESHOLD_OPTIONS = {
  set: { type: 'string', multiple: true },
  thresholds: { type: 'boolean' },
} as const;

/** Facts with every `--set` among the limits of the day. */
export function setThresholds(asked: Asked, facts: DayFacts): Outcome<DayFacts> {
  const set = writtenThresholds(asked);
  if (!set.ok) return set;
  if (Object.keys(set.value).length === 0) return answered(facts);
  return answered({ ...facts, thresholds: { ...facts.thresholds, ...set.value } });
}

/** Every `--set`: name → number with its unit. */
export function writtenThresholds(asked: Asked): Outcome<Readonly<Record<string, string>>> {
  const set: Record<string, string> = {};
  for (const text of asked.texts('set')) {
    const match = /^\s*([^=]+?)\s*=\s*(.+?)\s*$/.exec(text);
    if (!match)
      return refused({ kind: 'invalid-option', message: `invalid --set: "${text}", expected "NAME = NUMBER UNIT"` });
    const [, name = '', written = ''] = match;
    const read = readThreshold(name, written);
    if (!read.ok)
      return refused({ ...read.refusal, kind: 'invalid-option', message: `--set: ${read.refusal.message}` });
    set[name] = read.value;
  }
  return answered(set);
}
