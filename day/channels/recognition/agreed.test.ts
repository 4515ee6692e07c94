import { expect, test } from 'vitest';
import type { Proposal } from '../mapping.ts';
import { agreedProposals } from './agreed.ts';

const proposal = (meaning: Proposal['meaning'], confidence: number, question?: string): Proposal => ({
  column: 'F',
  meaning,
  unit: 'N',
  origin: 'measured',
  confidence,
  reason: 'name',
  alternatives: [],
  ...(question === undefined ? {} : { question }),
});

test('what is clear in one file holds in the others', () => {
  const files = [
    { file: 'coast.csv', proposals: [proposal('tractive-force', 0.7, 'which?')] },
    { file: 'pull.csv', proposals: [proposal('brake-force', 0.8)] },
  ];
  const [agreed] = agreedProposals(files);
  expect(agreed.meaning).toBe('brake-force');
  expect(agreed.question).toBeUndefined();
  expect(agreed.reason).toContain('pull.csv');
});

test('a doubt that every file has stays a question', () => {
  const files = [
    { file: 'a.csv', proposals: [proposal('brake-force', 0.5, 'which?')] },
    { file: 'b.csv', proposals: [proposal('brake-force', 0.4, 'which?')] },
  ];
  expect(agreedProposals(files)[0].question).toBe('which?');
  expect(agreedProposals(files)[0].confidence).toBe(0.5);
});

test('one file agrees with itself, none gives nothing', () => {
  const only = proposal('brake-force', 0.9);
  expect(agreedProposals([{ file: 'a.csv', proposals: [only] }])).toEqual([only]);
  expect(agreedProposals([])).toEqual([]);
});
