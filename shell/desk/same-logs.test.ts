import { expect, it } from 'vitest';
import type { EntryFacts } from '../../day/pulls/index.ts';
import { makePlateauDay } from '../../scenarios/index.ts';
import { answerOf } from '../store/testing/outcomes.ts';
import { sameLogs } from './same-logs.ts';
import { deskInFolder, folderWith } from './testing/desk-in-folder.ts';

const entry = (id: string, files: readonly string[], own: Partial<EntryFacts> = {}): EntryFacts => ({
  ...{ id, kind: 'pull', files, settings: {} },
  ...own,
});
const facts = (...entries: readonly EntryFacts[]) => ({
  ...{ title: 'day', place: {}, vehicle: {}, engine: {}, roller: {}, ambient: {}, mappings: [] },
  entries,
});
const files = [
  { name: 'a.csv', hash: 'one' },
  { name: 'b.csv', hash: 'one' },
  { name: 'c.csv', hash: 'two' },
];

it('finds the same bytes under two entries, under one name or two', () => {
  const two = sameLogs({ facts: facts(entry('1', ['a.csv']), entry('2', ['b.csv'])), files });
  expect(two).toMatchObject([{ kind: 'log-repeated', numbers: { files: 'a.csv, b.csv', entries: '1, 2' } }]);
  expect(two[0]?.message).toContain('a.csv and b.csv hold the same bytes and stand under entries 1 and 2');
  const one = sameLogs({ facts: facts(entry('1', ['a.csv']), entry('2', ['a.csv', 'c.csv'])), files });
  expect(one[0]?.message).toContain('a.csv is one log and stands under entries 1 and 2');
});

it('is quiet where logs differ, where an entry is left out, and where one log holds a pull and its coast-down', () => {
  expect(sameLogs({ facts: facts(entry('1', ['a.csv']), entry('2', ['c.csv'])), files })).toEqual([]);
  const out = entry('2', ['b.csv'], { excluded: 'twice' });
  expect(sameLogs({ facts: facts(entry('1', ['a.csv']), out), files })).toEqual([]);
  const coast = entry('2', ['a.csv'], { kind: 'coast-down' });
  expect(sameLogs({ facts: facts(entry('1', ['a.csv']), coast), files })).toEqual([]);
  expect(sameLogs({ facts: facts(entry('1', ['gone.csv']), entry('2', ['gone.csv'])), files })).toEqual([]);
});

it('is a finding of the day', async () => {
  const { files: whole } = makePlateauDay({ seed: 5, pulls: ['9', '10'] });
  const first = whole.find(({ name }) => name === 'pull-09-roller.csv');
  const copied = whole.map((file) =>
    file.name === 'pull-10-roller.csv' && first ? { ...first, name: file.name } : file,
  );
  const desk = await deskInFolder();
  const { id } = answerOf(await desk.openFolder(folderWith(copied)));
  expect(answerOf(await desk.report(id)).findings).toMatchObject([
    { kind: 'log-repeated', weight: 'doubt', numbers: { entries: '9, 10' } },
  ]);
});
