import { expect, it } from 'vitest';
import type { EntryFacts } from '../pulls/index.ts';
import { entrySentence, unreadText } from './sentence.ts';

const facts: EntryFacts = { id: '1', kind: 'pull', files: ['a.csv', 'b.csv'], settings: {} };
const unread = [{ file: 'a.csv', why: 'invalid file: this is a picture' }];

it('says which log of an entry could not be read, and why', () => {
  expect(entrySentence({ facts, result: undefined, unread })).toBe(
    'No answer: a.csv could not be read: invalid file: this is a picture.',
  );
  expect(unreadText([...unread, { file: 'b.csv', why: 'missing file' }])).toBe(
    'a.csv could not be read: invalid file: this is a picture; b.csv could not be read: missing file',
  );
});

it('tells an entry without logs from one whose logs nobody has opened', () => {
  expect(entrySentence({ facts: { ...facts, files: [] }, result: undefined })).toBe('No log belongs to this entry.');
  expect(entrySentence({ facts, result: undefined })).toBe('Not read yet.');
});

it('says of an entry that was left out only that', () => {
  const excluded = { ...facts, excluded: 'wrong gear' };
  expect(entrySentence({ facts: excluded, result: undefined, unread })).toBe('Left out by hand: wrong gear.');
});
