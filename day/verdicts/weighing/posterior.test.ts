import { describe, expect, it } from 'vitest';
import type { Fault } from '../fault.ts';
import type { Candidate } from './candidate.ts';
import type { WeighingModel } from './model.ts';
import { uncalibrated } from './posterior.ts';
import { plainModel } from './testing/made.ts';

const candidate = (fault: Fault, answer: Candidate['answer'], strength = 0): Candidate => ({
  ...{ fault, answer, strength },
  subject: 'spark',
});

describe('a twin that nobody could look for', () => {
  const two = [candidate('ignition-breakup', 'seen', 0.8), candidate('spark-energy', 'cannot tell')] as const;
  const oddsOf = (rest: Partial<WeighingModel>): number => {
    const model = plainModel(['ignition-breakup', 'spark-energy'], rest);
    const [seen, blind] = uncalibrated(two, { 'said:ignition-breakup': 'clear' }, model);
    return blind / seen;
  };

  it.each([0.9, 0, -0.7])('is behind what the other saw as often as was learnt: ln of %d', (gap) => {
    expect(oddsOf({ twins: { 'ignition-breakup': { 'spark-energy': gap } } })).toBeCloseTo(Math.exp(-gap), 9);
  });

  it('is so whatever the share of pulls in which each of them is', () => {
    const priors = { 'ignition-breakup': 0.03, 'spark-energy': 0.01 };
    expect(oddsOf({ priors, twins: { 'ignition-breakup': { 'spark-energy': 0.2 } } })).toBeCloseTo(Math.exp(-0.2), 9);
  });

  it('is held for the rarer one where nothing was learnt', () => {
    expect(oddsOf({})).toBeGreaterThan(0.4);
    expect(oddsOf({})).toBeLessThan(1);
  });
});
