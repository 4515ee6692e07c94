import { expect, test } from 'vitest';
import { keyAction } from './key-map.ts';

test.each([
  ['d', { page: 'facts', day: 'x' }, { kind: 'go', to: { page: 'day', day: 'x' } }],
  ['d', { page: 'days' }, undefined],
  ['b', { page: 'days' }, { kind: 'go', to: { page: 'bring', sources: [] } }],
  ['b', { page: 'gate', day: 'x' }, { kind: 'go', to: { page: 'bring', day: 'x', sources: [] } }],
  ['z', { page: 'days' }, { kind: 'undo' }],
  ['q', { page: 'days' }, undefined],
] as const)('%s on %o', (key, address, action) => {
  expect(keyAction(key, address)).toEqual(action);
});
