import { describe, expect, it } from 'vitest';
import type { StopClass, Voids } from '../detector.ts';
import { BARS, stopClassOf, voidsOf, withBlindTwins } from './stop.ts';
import { made } from './testing/made.ts';

const hypothesis = (probability: number, stopClass: StopClass, voids: Voids = 'power') => ({
  probability,
  detection: made('knock', { stopClass, voids }),
});

describe('the stop class', () => {
  it.each([
    { probability: 0.3, stopClass: 3, expected: 3 },
    { probability: 0.29, stopClass: 3, expected: 0 },
    { probability: 0.4, stopClass: 2, expected: 2 },
    { probability: 0.39, stopClass: 2, expected: 0 },
    { probability: 0.5, stopClass: 1, expected: 1 },
    { probability: 0.49, stopClass: 1, expected: 0 },
  ] as const)('of class $stopClass counts from its bar on: $probability', ({ probability, stopClass, expected }) => {
    expect(stopClassOf([hypothesis(probability, stopClass)], [])).toBe(expected);
  });

  it('of class 3 is not hidden by a likelier harmless cause', () => {
    expect(stopClassOf([hypothesis(0.69, 0), hypothesis(0.31, 3)], [])).toBe(3);
  });

  it('of pre-ignition counts although nobody could look for it', () => {
    const untold = made('pre-ignition', { answer: 'cannot tell', stopClass: 0, strength: 0, windows: [] });
    const knocks = { probability: 0.6, detection: made('knock', { stopClass: 2 }) };
    expect(stopClassOf([knocks, { probability: 0.35, detection: untold }], [])).toBe(3);
    expect(stopClassOf([knocks, { probability: 0.25, detection: untold }], [])).toBe(2);
  });

  it('of pre-ignition does not count beside a light knock when nobody could look for it', () => {
    const untold = made('pre-ignition', { answer: 'cannot tell', stopClass: 0, strength: 0, windows: [] });
    const light = { probability: 0.6, detection: made('knock', { stopClass: 1 }) };
    expect(stopClassOf([light, { probability: 0.35, detection: untold }], [])).toBe(1);
  });

  it('holds for a surge that was seen beside a likelier harmless cause', () => {
    const swings = (strength: number) => made('surge', { stopClass: 2, strength });
    expect(stopClassOf([hypothesis(0.9, 1)], [swings(0.82)])).toBe(2);
    expect(stopClassOf([hypothesis(0.9, 1)], [swings(0.7)])).toBe(1);
  });

  it('holds for a sure shortfall that no believed cause explains', () => {
    const short = made('power-shortfall', { stopClass: 2, strength: 0.9 });
    expect(stopClassOf([hypothesis(0.3, 1)], [short])).toBe(2);
    expect(stopClassOf([hypothesis(0.6, 1)], [short])).toBe(1);
    expect(stopClassOf([hypothesis(0.3, 1)], [{ ...short, strength: 0.7 }])).toBe(0);
  });

  it('is carried by several hypotheses together', () => {
    expect(stopClassOf([hypothesis(0.25, 2), hypothesis(0.2, 2)], [])).toBe(2);
    expect(stopClassOf([hypothesis(0.25, 2), hypothesis(0.2, 3)], [])).toBe(2);
    expect(stopClassOf([hypothesis(0.25, 1), hypothesis(0.2, 2)], [])).toBe(0);
    expect(stopClassOf([], [])).toBe(0);
  });

  it('asks for less the worse it is', () => {
    expect(BARS[3]).toBeLessThan(BARS[2]);
    expect(BARS[2]).toBeLessThan(BARS[1]);
  });

  it('counts a dangerous state that was surely seen under any cause, unless hardly anything is believed', () => {
    const lean = made('lean-mixture', { stopClass: 2, strength: 0.9 });
    expect(stopClassOf([hypothesis(0.8, 1)], [lean])).toBe(2);
    expect(stopClassOf([hypothesis(0.1, 1)], [lean])).toBe(0);
    expect(stopClassOf([hypothesis(0.8, 1)], [{ ...lean, strength: 0.5 }])).toBe(1);
  });
});

describe('what is void', () => {
  it.each([
    { list: [hypothesis(0.5, 1)], expected: 'power' },
    { list: [hypothesis(0.3, 1), hypothesis(0.25, 1)], expected: 'power' },
    { list: [hypothesis(0.3, 1), hypothesis(0.3, 1, 'nothing')], expected: 'nothing' },
    { list: [hypothesis(0.4, 1, 'channel'), hypothesis(0.15, 1)], expected: 'channel' },
    { list: [], expected: 'nothing' },
  ] as const)('is $expected', ({ list, expected }) => {
    expect(voidsOf(list)).toBe(expected);
  });
});

describe('a twin that only its missing channel hides', () => {
  const leader = made('ignition-breakup', { stopClass: 1, voids: 'power' });
  const blind = made('spark-energy', {
    ...{ answer: 'cannot tell', stopClass: 0, strength: 0, windows: [], voids: 'nothing', missing: ['coil-current'] },
  });
  const shared = [
    { probability: 0.35, detection: leader },
    { probability: 0.35, detection: blind },
  ];

  it('voids and stops as the leader does: together they are believed', () => {
    expect(voidsOf(shared)).toBe('nothing');
    expect(voidsOf(withBlindTwins(shared, leader))).toBe('power');
    expect(stopClassOf(shared, [])).toBe(0);
    expect(stopClassOf(withBlindTwins(shared, leader), [])).toBe(1);
  });

  it('is left alone where its detector looked, and where it is no twin', () => {
    const looked = { ...blind, answer: 'not seen' as const };
    const other = made('valve-float', { answer: 'cannot tell', stopClass: 0, strength: 0, windows: [] });
    const causes = [looked, other].map((detection) => ({ probability: 0.35, detection }));
    expect(withBlindTwins(causes, leader)).toEqual(causes);
  });
});
