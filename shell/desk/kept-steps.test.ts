import { describe, expect, it, onTestFinished } from 'vitest';
import { keptStep } from '../../day/pulls/index.ts';
import { makeVirtualDay } from '../../scenarios/index.ts';
import { openStore } from '../store/index.ts';
import { answerOf } from '../store/testing/outcomes.ts';
import { Bench, type DayQuestion } from './bench.ts';
import { KeptSteps } from './kept-steps.ts';
import { takeFolder } from './take-folder.ts';
import { emptyFolder, folderWith } from './testing/desk-in-folder.ts';

describe('steps that are kept', () => {
  const made: number[] = [];
  const sum = keptStep(
    ({ of, add }: { readonly of: { readonly value: number }; readonly add: number }) => {
      made.push(add);
      return of.value + add;
    },
    ({ of, add }, nameOf) => `${nameOf(of)} ${add}`,
  );

  it('are worked out once for the same thing and the same number, and anew for any other', () => {
    const memory = new KeptSteps();
    const [one, alike] = [{ value: 1 }, { value: 1 }];
    made.length = 0;
    expect([sum({ of: one, add: 2 }, memory), sum({ of: one, add: 2 }, memory)]).toEqual([3, 3]);
    expect(made).toEqual([2]);
    expect(sum({ of: alike, add: 2 }, memory)).toBe(3);
    expect(sum({ of: one, add: 4 }, memory)).toBe(5);
    expect(made).toEqual([2, 2, 4]);
  });

  it('are worked out each time without a memory, and again when there was no room', () => {
    const [one, memory] = [{ value: 1 }, new KeptSteps(1)];
    made.length = 0;
    sum({ of: one, add: 2 }, undefined);
    sum({ of: one, add: 2 }, undefined);
    sum({ of: one, add: 5 }, memory);
    sum({ of: one, add: 6 }, memory);
    expect(sum({ of: one, add: 5 }, memory)).toBe(6);
    expect(made).toEqual([2, 2, 5, 6, 5]);
  });
});

describe('a day that grows log by log', () => {
  it('says to the bit what a bench says that sees it whole', { timeout: 300_000 }, async () => {
    const store = answerOf(await openStore(emptyFolder()));
    onTestFinished(() => store.close());
    const folder = folderWith(
      makeVirtualDay({ seed: 41, pulls: 3, level: 'basic', rates: { roller: 50, engine: 50 } }).files,
    );
    const day = answerOf(await takeFolder(store, folder, () => '2041-09-12T08:00:00Z'));
    const { facts } = answerOf(store.facts(day));
    const files = answerOf(store.files(day));
    const upTo = (count: number): DayQuestion => ({
      facts: { ...facts, entries: facts.entries.slice(0, count) },
      files,
    });
    const told = async (bench: Bench, question: DayQuestion): Promise<string> => {
      const [report, health] = [await bench.report(question), await bench.health(question)];
      return JSON.stringify([report, health]);
    };
    const growing = new Bench(store);
    for (let count = facts.entries.length - 1; count <= facts.entries.length; count += 1)
      expect(await told(growing, upTo(count)), `${count} entries`).toBe(await told(new Bench(store), upTo(count)));
    // An overruled verdict, another threshold: what rests on them is worked out anew.
    const [first, ...rest] = facts.entries.filter(({ kind }) => kind === 'pull');
    const overruled = facts.entries.map((entry) =>
      entry === first ? { ...entry, overruled: { 'ambient-probe': 'a test' } } : entry,
    );
    expect(rest.length).toBeGreaterThan(1);
    for (const changed of [
      { ...facts, entries: overruled },
      { ...facts, thresholds: { 'boost-overshoot.pressure': '1 kPa' } },
      { ...facts, vehicle: { name: 'another vehicle' } },
    ]) {
      const question: DayQuestion = { facts: changed, files };
      expect(await told(growing, question)).toBe(await told(new Bench(store), question));
    }
  });
});
