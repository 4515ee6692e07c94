import { expect, test } from 'vitest';
import type { CoverageRowView } from '../../contract/index.ts';
import { addressOf, hashOf } from '../frame/address.ts';
import { bestAdditions, reaches, turned } from './coverage.ts';

const row = (title: string, reach: CoverageRowView['reach'], lacking: CoverageRowView['lacking'] = []) => ({
  ...{ fault: title, title, subject: 'fuel', reach, lacking, unparted: [] },
});

test('the channel that opens most blind faults by itself comes first; a part of an answer opens none', () => {
  const rows = [
    row('a', 'blind', [{ channel: 'x', adds: 'an answer' }]),
    row('b', 'blind', [
      { channel: 'x', adds: 'an answer' },
      { channel: 'y', adds: 'part of an answer' },
    ]),
    row('c', 'weak', [{ channel: 'y', adds: 'certainty' }]),
    row('d', 'full'),
  ];
  expect(bestAdditions(rows)).toEqual([{ channel: 'x', opens: ['a', 'b'] }]);
  expect(reaches(rows)).toEqual({ full: 1, weak: 1, blind: 2 });
});

test('one channel is turned; none at all is kept in the address', () => {
  const channel = (meaning: string, ticked: boolean) => ({ meaning, title: '', subject: '', logged: false, ticked });
  const channels = [channel('a', true), channel('b', false)];
  expect(turned(channels, 'b')).toBe('a,b');
  const none = { page: 'coverage', day: 'd', channels: turned(channels, 'a') } as const;
  expect(addressOf(hashOf(none))).toEqual(none);
  expect(addressOf('#/day/d/coverage')).toEqual({ page: 'coverage', day: 'd' });
});
