import { expect, test } from 'vitest';
import { writeFacts } from '../../server/forms/write-facts.ts';
import { SMALL_FACTS } from '../../server/testing/small-day.ts';
import { byGroup, changedTexts } from './fields.ts';

const fields = writeFacts(SMALL_FACTS);

test('groups keep their order and every field has one', () => {
  const groups = byGroup(fields);
  const names = groups.map(({ group }) => group);
  expect(names.slice(0, 5)).toEqual(['Roller', 'Vehicle', 'Engine', 'Air', 'Day']);
  expect(new Set(names).size).toBe(names.length);
  expect(groups.flatMap(({ members }) => members)).toHaveLength(fields.length);
});

test('only what was changed is sent', () => {
  const written: Record<string, string> = {
    'roller.equivalentMass': ' 990 lb ',
    title: 'Invented day',
    'roller.name': '',
  };
  expect(changedTexts(fields, (path) => written[path])).toEqual({ 'roller.equivalentMass': '990 lb' });
});
