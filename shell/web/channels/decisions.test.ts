import { expect, test } from 'vitest';
import { encodeReading, encodeVocabulary } from '../../server/encode/reading.ts';
import { smallReading } from '../../server/testing/small-reading.ts';
import { decided, firstDecisions, inOrder, mappingOf, offers, unitInWords, unitsFor } from './decisions.ts';

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

test('how a column is written goes along, and two ways of writing are two offers', () => {
  const gauge = { column: 'P_in', meaning: 'manifold-pressure', unit: 'bar', divisor: 100, zero: 'ambient' } as const;
  const decisions = decided(firstDecisions(file), gauge, vocabulary);
  expect(mappingOf(file, decisions).columns).toContainEqual(gauge);
  expect(unitInWords(gauge)).toBe('bar after dividing by 100 above ambient');
  const [, , column] = file.columns;
  const absolute = { meaning: 'manifold-pressure', unit: 'kPa', zero: 'ambient', confidence: 0.3, reason: '' } as const;
  expect(column && offers({ ...column, alternatives: [absolute] })).toHaveLength(2);
});

test('a meaning of another dimension takes its own unit', () => {
  const decisions = decided(
    firstDecisions(file),
    { column: 'P_in', meaning: 'coolant-temperature', unit: 'kPa' },
    vocabulary,
  );
  expect(decisions.find(({ column }) => column === 'P_in')?.unit).toBe('°C');
});

test('questions, the unsure, the sure and the nameless are told apart; the limit counts as sure', () => {
  const columns = file.columns.map((column) => ({
    ...column,
    confidence: column.name === 'n_mot' ? 0.89 : column.confidence,
  }));
  const { asked, unsure, sure, unnamed } = inOrder(columns);
  const names = [asked, unsure, sure, unnamed].map((list) => list.map(({ name }) => name));
  expect(names).toEqual([['P_in'], ['n_mot'], ['time', 'P_eng'], ['x17']]);
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
