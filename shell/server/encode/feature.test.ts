import { expect, it } from 'vitest';
import { lackedTitles } from './feature.ts';

it('asks for a second channel where one is logged', () => {
  expect(lackedTitles(['oil-pressure', 'knock-level'], new Set(['oil-pressure'] as const))).toEqual([
    'a second oil pressure',
    'knock level',
  ]);
});
