import { describe, expect, it } from 'vitest';
import type { Fault } from '../../fault.ts';
import type { PullSample, SaidSample } from './samples.ts';
import { countedTables } from './tables.ts';

const SPAN = { from: 4, to: 6 };
const FAULTS = ['wheel-slip', 'clutch-slip', 'knock'] as const;

const sample = (fault: Fault, answer: SaidSample['answer']): SaidSample => ({
  ...{ fault, answer, subject: 'driveline', strength: 0.8, lookAlikes: [] },
  windows: answer === 'seen' ? [SPAN] : [],
});

/** So many pulls with one fault in which slip of the tyre is seen and the clutch's detector answers so. */
const pulls = (count: number, there: Fault, clutch: SaidSample['answer']): PullSample[] =>
  Array.from({ length: count }, (_, k) => ({
    ...{ day: `${k}`, seed: k, pull: `${there} ${clutch} ${k}`, decoy: false },
    truths: [{ fault: there, strength: 2, ...SPAN }],
    said: [sample('wheel-slip', 'seen'), sample('clutch-slip', clutch), sample('knock', 'cannot tell')],
  }));

describe('how much more often a fault is behind its detector than a twin that nobody could look for', () => {
  const gapOf = (samples: readonly PullSample[]): number | undefined =>
    countedTables(samples, FAULTS).twins?.['wheel-slip']?.['clutch-slip'];

  it('is counted in the pulls in which the twin was blind', () => {
    const blind = [...pulls(6, 'wheel-slip', 'cannot tell'), ...pulls(2, 'clutch-slip', 'cannot tell')];
    // ln (6 + 2)/(2 + 2), by hand
    expect(gapOf(blind)).toBeCloseTo(Math.log(2), 2);
    expect(gapOf([...blind, ...pulls(20, 'wheel-slip', 'not seen')])).toBeCloseTo(Math.log(2), 2);
    // ln (1 + 2)/(7 + 2), by hand
    const other = [...pulls(1, 'wheel-slip', 'cannot tell'), ...pulls(7, 'clutch-slip', 'cannot tell')];
    expect(gapOf(other)).toBeCloseTo(-Math.log(3), 2);
  });

  it('is nothing without such pulls, and is asked of twins only', () => {
    expect(gapOf([])).toBe(0);
    expect(countedTables([], FAULTS).twins).toEqual({
      'wheel-slip': { 'clutch-slip': 0 },
      'clutch-slip': { 'wheel-slip': 0 },
    });
  });
});
