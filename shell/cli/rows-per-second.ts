import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import type { Asked } from './command.ts';

export const ROWS_OPTION = { 'rows-per-second': { type: 'string' } } as const;
export const ROWS_HELP = ['  --rows-per-second NUMBER   how often a row was written, for a log without a time column'];

/** `--rows-per-second`, above zero; undefined when it was not given. */
export function rowsPerSecond(asked: Asked): Outcome<number | undefined> {
  const text = asked.text('rows-per-second');
  if (text === undefined) return answered(undefined);
  const value = Number(text);
  if (Number.isFinite(value) && value > 0) return answered(value);
  return refused({
    kind: 'invalid-option',
    message: `invalid --rows-per-second: ${text}, expected a number above zero`,
    numbers: { value: text },
  });
}
