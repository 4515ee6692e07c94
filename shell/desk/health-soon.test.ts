import { expect, it, onTestFinished } from 'vitest';
import { makeVirtualDay } from '../../scenarios/index.ts';
import { openStore } from '../store/index.ts';
import { answerOf } from '../store/testing/outcomes.ts';
import { Bench } from './bench.ts';
import type { HealthWish } from './desk.ts';
import { takeFolder } from './take-folder.ts';
import { emptyFolder, folderWith } from './testing/desk-in-folder.ts';

it('health that is wanted soon waits for no engine model; once it was worked out, it is used at once', {
  timeout: 300_000,
}, async () => {
  const store = answerOf(await openStore(emptyFolder()));
  onTestFinished(() => store.close());
  const rates = { roller: 50, engine: 25 };
  const folder = folderWith(makeVirtualDay({ seed: 602, pulls: 5, level: 'rich', rates }).files);
  const day = answerOf(await takeFolder(store, folder, () => '2041-09-12T08:00:00Z'));
  const { facts } = answerOf(store.facts(day));
  const files = answerOf(store.files(day));
  const bench = new Bench(store);
  const origin = async (count: number, wish?: HealthWish): Promise<string | undefined> => {
    const question = { facts: { ...facts, entries: facts.entries.slice(0, count) }, files };
    return answerOf(await bench.health(question, wish)).shortfall.shortfalls.at(-1)?.prediction.origin;
  };
  const last = facts.entries.findLastIndex(({ kind }) => kind === 'pull') + 1;
  expect(await origin(last - 1, { soon: true })).toMatch(/sensitivities$/);
  expect(await origin(last - 1)).toBe('an engine model and the 3 earlier clean pulls that taught it');
  expect(await origin(last - 1, { soon: true })).toMatch(/^an engine model/);
  expect(await origin(last, { soon: true })).toBe('an engine model and the 4 earlier clean pulls that taught it');
});
