import { expect, test } from 'vitest';
import type { FindingLine } from '../../contract/index.ts';
import { groupedByKind, placesOf } from './finding-groups.ts';

const finding = (kind: string, channel: string, weight: FindingLine['weight'] = 'note'): FindingLine => ({
  kind,
  weight,
  message: `${kind} of ${channel}`,
  place: { channel },
});
const shape = (findings: readonly FindingLine[]) =>
  groupedByKind(findings).map(({ first, others }) => `${first.message} +${others.length}`);

test('nothing stays nothing', () => {
  expect(groupedByKind([])).toEqual([]);
});

test('two of a kind stay alone, three stand together where the first came', () => {
  expect(shape([finding('a', 'x'), finding('b', 'x'), finding('a', 'y')])).toEqual([
    'a of x +0',
    'a of y +0',
    'b of x +0',
  ]);
  expect(shape([finding('a', 'x'), finding('b', 'x'), finding('a', 'y'), finding('a', 'z')])).toEqual([
    'a of x +2',
    'b of x +0',
  ]);
});

test('a fault never hides behind notes of its kind', () => {
  expect(shape([finding('a', 'x'), finding('a', 'y'), finding('a', 'z', 'fault')])).toHaveLength(3);
});

test('places are named once, the first few of them', () => {
  expect(placesOf([finding('a', 'x'), finding('a', 'x'), finding('a', 'y')])).toBe('x, y');
  expect(placesOf(Array.from({ length: 12 }, (_, at) => finding('a', `c${at}`)))).toBe(
    'c0, c1, c2, c3, c4, c5, c6, c7 …',
  );
});
