import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyFacts } from '../testing/day-facts.ts';
import { parseDayText } from './parse.ts';
import { isSame } from './same.ts';
import { checkedFacts, writeDayText } from './write.ts';

describe('day text', () => {
  it('gives the same facts to the last bit when it is read back, and the same text when it is written again', () => {
    fc.assert(
      fc.property(anyFacts(), (facts) => {
        const text = writeDayText(facts);
        const read = parseDayText(text);
        if (!read.ok) throw new Error(`${read.refusal.message}\n${text}`);
        expect(read.value).toEqual(facts);
        expect(isSame(read.value, facts)).toBe(true);
        expect(writeDayText(read.value)).toBe(text);
        expect(checkedFacts(facts).ok).toBe(true);
      }),
      { numRuns: 400, seed: 20310514 },
    );
  });
});
