import { expect, test } from 'vitest';
import type { HealthFindingView } from '../../contract/index.ts';
import { foundGroups, foundInWords } from './found-groups.ts';

const found = (title: string, entry: string, stopClass: 0 | 1 | 2 | 3): HealthFindingView => ({
  ...{ name: `health.${title}`, title, subject: 'loads', entry, rests: [], why: '', changed: [], values: [] },
  stop: { class: stopClass, word: '', meaning: '' },
});

test('nothing found gives empty groups and no words', () => {
  expect(foundGroups([])).toEqual({ open: [], folded: [], notes: [] });
  expect(foundInWords([])).toBe('');
});

test('two repeats stand in the open, a third folds them all away beside a hold that stays', () => {
  const hold = found('coolant lost', '9', 2);
  const two = [found('oil too hot', '4', 1), found('short', '5', 1)];
  expect(foundGroups([hold, ...two]).open).toEqual([hold, ...two]);
  const three = [...two, found('short', '6', 1)];
  expect(foundGroups([hold, ...three])).toEqual({ open: [hold], folded: three, notes: [] });
});

test('what asks for nothing is a note, however grave the rest', () => {
  const note = found('slow trend', '3', 0);
  const end = found('coolant lost', '9', 3);
  expect(foundGroups([end, note])).toEqual({ open: [end], folded: [], notes: [note] });
});

test('the fold says each thing once, with every entry once', () => {
  const all = [
    found('short', '15', 1),
    found('oil too hot', '15', 1),
    found('short', '17', 1),
    found('short', '17', 1),
  ];
  expect(foundInWords(all)).toBe('short in 15, 17; oil too hot in 15');
});
