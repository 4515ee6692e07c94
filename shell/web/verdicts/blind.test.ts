import { expect, test } from 'vitest';
import { openings, otherReasons } from './blind.ts';

const untold = (title: string, missing: string[]) => ({ fault: title, title, why: 'why', missing });
const some = [
  untold('low oil pressure', ['oil pressure', 'oil temperature']),
  untold('boost leak', ['wastegate duty']),
  untold('boost swinging', ['wastegate duty']),
  untold('turbocharger overspeed', []),
];

test('the channel that opens most by itself comes first', () => {
  expect(openings(some)).toEqual([
    { channel: 'wastegate duty', alone: ['boost leak', 'boost swinging'], withMore: [] },
    { channel: 'oil pressure', alone: [], withMore: ['low oil pressure'] },
    { channel: 'oil temperature', alone: [], withMore: ['low oil pressure'] },
  ]);
  expect(openings([])).toEqual([]);
});

test('what lacks no channel has another reason', () => {
  expect(otherReasons(some).map(({ title }) => title)).toEqual(['turbocharger overspeed']);
});
