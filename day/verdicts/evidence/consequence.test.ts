import { describe, expect, it } from 'vitest';
import { inventedPull } from '../testing/invented-pull.ts';
import { judgedBy } from './consequence.ts';

describe('faults that a channel alone shows', () => {
  it.each([
    ['oil-pressure', ['oil-pressure-low']],
    ['fuel-pressure-difference', ['fuel-pressure-drop']],
    ['coolant-pressure', ['head-lift']],
    ['throttle', []],
  ] as const)('by %s: %s', (meaning, faults) => {
    expect(judgedBy(inventedPull(), { meaning })).toEqual(faults);
  });

  it('are none by the manifold where the rail’s difference to it is logged', () => {
    expect(judgedBy(inventedPull(), { meaning: 'manifold-pressure' })).toEqual([]);
  });
});
