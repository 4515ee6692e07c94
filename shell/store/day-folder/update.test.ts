import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DayFacts } from '../../../day/pulls/facts.ts';
import { anyFacts } from '../testing/day-facts.ts';
import { answerOf, refusalOf } from '../testing/outcomes.ts';
import { parseDayText } from './parse.ts';
import { updateDayText } from './update.ts';
import { writeDayText } from './write.ts';

const TEXT = `# our day
knurl: 1
title: Plateau   # working title
vehicle:
  # measured with a tape
  tyre radius: 13.0 in  # cold
  overall ratio: 4.402
entries:
  # the first one
  - id: a
    kind: pull
    files: [a.csv]   # one clock
  # the second one
  - kind: pull
    id: b
    settings:
      gap: 0.55 mm # plugs
`;

const FACTS = answerOf(parseDayText(TEXT));

function updated(facts: DayFacts): string {
  const text = answerOf(updateDayText(TEXT, FACTS, facts));
  expect(answerOf(parseDayText(text))).toEqual(facts);
  return text;
}

describe('an updated day text', () => {
  it('is the same when nothing changed', () => {
    expect(updated(FACTS)).toBe(
      TEXT.replace('Plateau   #', 'Plateau #')
        .replace('in  #', 'in #')
        .replace(']   #', '] #')
        .replace('[a.csv]', '[ a.csv ]'),
    );
  });

  it('changes one value and keeps comments, order and how the rest was written', () => {
    const text = updated({ ...FACTS, title: 'High plain' });
    expect(text).toContain('title: High plain # working title\n');
    for (const kept of [
      '# our day',
      '# measured with a tape\n  tyre radius: 13.0 in # cold',
      '  - kind: pull\n    id: b',
    ])
      expect(text).toContain(kept);
  });

  it('adds and removes facts, sections and settings', () => {
    const { overallRatio: _, ...vehicle } = FACTS.vehicle;
    const text = updated({ ...FACTS, vehicle, roller: { kind: 'brake' } });
    expect(text).not.toContain('overall ratio');
    expect(text).toContain('roller:\n  kind: brake');
    expect(text).toContain('# cold');
  });

  it('moves, adds and removes entries together with their comments', () => {
    const [a, b] = FACTS.entries;
    if (!a || !b) throw new Error('two entries');
    const text = updated({
      ...FACTS,
      entries: [b, { id: 'c', kind: 'note', files: [], settings: {} }, { ...a, title: 'new' }],
    });
    expect(text.indexOf('# the second one')).toBeLessThan(text.indexOf('# the first one'));
    expect(text).toContain('gap: 0.55 mm # plugs');
    const less = updated({ ...FACTS, entries: [b] });
    expect(less).not.toContain('id: a');
    expect(less).toContain('# plugs');
  });

  it('is refused when somebody changed the file meanwhile, and when it cannot be read', () => {
    expect(refusalOf(updateDayText(TEXT.replace('4.402', '4.4'), FACTS, { ...FACTS, title: 'x' })).kind).toBe(
      'changed-elsewhere',
    );
    expect(refusalOf(updateDayText(TEXT.replace('13.0 in', '13,0 in'), FACTS, FACTS)).kind).toBe('invalid-value');
  });

  it('says the new facts whatever changed', () => {
    fc.assert(
      fc.property(anyFacts(), anyFacts(), (former, next) => {
        const outcome = updateDayText(writeDayText(former), former, next);
        expect(answerOf(parseDayText(answerOf(outcome)))).toEqual(next);
      }),
      { numRuns: 150, seed: 7 },
    );
  });
});
