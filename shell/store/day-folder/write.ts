import { Document, isMap, isSeq, visit } from 'yaml';
import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import type { DayFacts } from '../../../day/pulls/index.ts';
import { encodeDay } from './encode.ts';
import { parseDayText } from './parse.ts';
import { isSame } from './same.ts';

/**
 * The text of `day.yaml` for these facts. Reading it gives the same facts to the last bit.
 * Facts that the format cannot hold (see `checkedFacts`) may throw or give a text that is refused on reading.
 */
export function writeDayText(facts: DayFacts): string {
  const document = new Document(encodeDay(facts));
  visit(document, {
    Pair: (_, pair) => {
      if (isSeq(pair.value) && pair.value.items.every((item) => !isMap(item))) pair.value.flow = true;
    },
  });
  return document.toString(TEXT_OPTIONS);
}

/** Long lines stay whole: folding would change texts with spaces at the break. */
export const TEXT_OPTIONS = { lineWidth: 0 } as const;

/** The facts if `day.yaml` can hold them without loss, else what is wrong with them. */
export function checkedFacts(facts: DayFacts): Outcome<DayFacts> {
  let text: string;
  try {
    text = writeDayText(facts);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return refused({ kind: 'invalid-facts', message: `invalid facts: ${error.message}` });
  }
  const read = parseDayText(text, 'facts');
  if (!read.ok) {
    const { place: _, ...refusal } = read.refusal;
    return refused(refusal);
  }
  if (isSame(read.value, facts)) return answered(facts);
  return refused({ kind: 'invalid-facts', message: 'invalid facts: they hold something that a day does not know' });
}
