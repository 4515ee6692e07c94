import { expect, test } from 'vitest';
import { encodeReading, encodeVocabulary } from '../../server/encode/reading.ts';
import { smallReading } from '../../server/testing/small-reading.ts';
import { decided, firstDecisions, inOrder, mappingOf, offers, unitsFor } from './decisions.ts';

const file = encodeReading(smallReading('engine.csv', 100));
const vocabulary = encodeVocabulary();

test('an open question is not decided by us, and an undecided column is not sent', () => {
  const decisions = firstDecisions(file);
  expect(decisions.find(({ column }) => column === 'P_in')?.meaning).toBeUndefined();
  expect(mappingOf(file, decisions).columns.map(({ column }) => column)).toEqual(['time', 'n_mot', 'P_eng', 'x17']);
});

test('an answered question is sent', () => {
  const decisions = decided(
    firstDecisions(file),
    { column: 'P_in', meaning: 'boost-pressure', unit: 'kPa' },
    vocabulary,
  );
  expect(mappingOf(file, decisions).columns).toContainEqual({ column: 'P_in', meaning: 'boost-pressure', unit: 'kPa' });
});

test('a meaning of another dimension takes its own unit', () => {
  const decisions = decided(
    firstDecisions(file),
    { column: 'P_in', meaning: 'coolant-temperature', unit: 'kPa' },
    vocabulary,
  );
  expect(decisions.find(({ column }) => column === 'P_in')?.unit).toBe('°C');
});

test('questions come first, then the least sure, and the nameless last', () => {
  const { asked, believed, unnamed } = inOrder(file.columns);
  expect([asked, believed, unnamed].map((columns) => columns.map(({ name }) => name))).toEqual([
    ['P_in'],
    ['P_eng', 'n_mot', 'time'],
    ['x17'],
  ]);
});

test('offers name each reading once', () => {
  const [, , column] = file.columns;
  expect(
    column &&
      offers({ ...column, alternatives: [...column.alternatives, ...column.alternatives] }).map(
        ({ meaning }) => meaning,
      ),
  ).toEqual(['manifold-pressure', 'boost-pressure']);
});

test('units of a kind share its dimension', () => {
  expect(unitsFor('speed')).toContain('mph');
  expect(unitsFor('speed')).not.toContain('rpm');
});
