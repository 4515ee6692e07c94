import { expect, test } from 'vitest';
import { type Address, addressOf, hashOf } from './address.ts';

test.each<Address>([
  { page: 'days' },
  { page: 'day', day: 'a b/ü' },
  { page: 'entry', day: 'd', entry: 'pull-1', look: { pull: 0, against: 'time' } },
  {
    page: 'entry',
    day: 'd',
    entry: 'p',
    look: { pull: 2, against: 'engine-speed', from: 1.5, to: 3, show: ['0-n', '1-p'] },
  },
  { page: 'overlay', day: 'd', entries: 'a,b', rule: 'SAE J1349', of: 'roll' },
  { page: 'overlay', day: 'd' },
  { page: 'facts', day: 'd' },
  { page: 'facts', day: 'd', field: 'parts.rodTension' },
  { page: 'margins', day: 'd', at: 'MAP 215 kPa', goal: '400 kW', speed: '5000 rpm' },
  { page: 'gate', day: 'd' },
  { page: 'bring', sources: [] },
  { page: 'bring', day: 'd', sources: ['s1', 's2'] },
  { page: 'bring', day: 'd', sources: ['s1'], back: 'pull 1' },
  { page: 'gallery' },
])('%o survives the address bar', (address) => {
  expect(addressOf(hashOf(address))).toEqual(address);
});

test.each([
  ['', 'days'],
  ['#', 'days'],
  ['#/nonsense', 'unknown'],
  ['#/day', 'unknown'],
  ['#/day/d/entry', 'unknown'],
  ['#/day/%E0%A4%A', 'day'],
])('%s is %s', (hash, page) => {
  expect(addressOf(hash).page).toBe(page);
});

test('a window that ends before it begins is no window', () => {
  expect(addressOf('#/day/d/entry/p?from=3&to=1&pull=-2')).toEqual({
    page: 'entry',
    day: 'd',
    entry: 'p',
    look: { pull: 0, against: 'time' },
  });
});
