import { describe, expect, test } from 'vitest';
import { makeSimpleDay } from './index.ts';
import { otherDay, type Verdict, verdictsOf } from './testing/other-days.ts';
import { readDay } from './testing/read-day.ts';

/** Days nobody looked at while the program was written: every one is drawn from its number alone. */
const SEEDS = Array.from({ length: 36 }, (_, k) => 500 + k);

const JUDGED: readonly (Verdict & { readonly seed: number })[] = SEEDS.flatMap((seed) => {
  const day = makeSimpleDay(otherDay(seed));
  return verdictsOf(day, readDay(day)).map((verdict) => ({ ...verdict, seed }));
});

function those(verdict: Verdict['verdict']): readonly string[] {
  return JUDGED.filter((one) => one.verdict === verdict).map(
    ({ seed, entry, detail }) => `${seed}/${entry}: ${detail}`,
  );
}

describe('other days: rollers, units, ways of writing, rates, missing columns and facts', () => {
  test('every pull gets a verdict', () => {
    expect(JUDGED.length).toBe(SEEDS.length);
  });

  test('no power is claimed that is wrong: beyond three of its uncertainties, or beyond 3 % without a band that says so', () => {
    expect(those('wrong')).toEqual([]);
  });

  test('where nothing is claimed there is a question or a reason', () => {
    expect(those('silent')).toEqual([]);
    for (const detail of [...those('asked'), ...those('refused')]) expect(detail.length).toBeGreaterThan(20);
  });

  test('most pulls are answered all the same', () => {
    expect(those('right').length).toBeGreaterThan(0.6 * SEEDS.length);
  });
});

describe('a missing thing is named', () => {
  const refusalWithout = (missing: string): string => {
    const day = makeSimpleDay({ seed: 4, roller: 'brake', pulls: 1, missing: [missing], oneFile: true });
    return verdictsOf(day, readDay(day))
      .map(({ verdict, detail }) => `${verdict}: ${detail}`)
      .join();
  };

  test.each([
    ['force', /refused: .*force/],
    ['roller.equivalent mass', /refused: .*equivalent mass/],
    ['speed', /refused: .*roll speed/],
  ])('%s', (missing, expected) => {
    expect(refusalWithout(missing)).toMatch(expected);
  });
});

describe('a converter', () => {
  const day = makeSimpleDay({ seed: 27, roller: 'brake', pulls: 1, engine: { transmission: 'converter' } });
  const pull = readDay(day).report.entries.find(({ facts }) => facts.kind === 'pull')?.result?.pulls[0];

  test('leaves wheel power claimed and engine power unclaimed, with the reason', () => {
    const claimed = pull?.peaks.map(({ what }) => what) ?? [];
    expect(claimed).toContain('wheel power');
    expect(claimed).not.toContain('engine power');
    expect(pull?.curve.missing.join()).toContain('converter');
  });
});
