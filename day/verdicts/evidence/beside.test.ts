import { describe, expect, it } from 'vitest';
import { powerShortfall } from '../faults/air/power-shortfall.ts';
import { drivelineLossRising } from '../faults/driveline/driveline-loss-rising.ts';
import { detected } from '../testing/behaves.ts';
import { short } from '../testing/faults.ts';
import { type Invented, inventedPull } from '../testing/invented-pull.ts';
import { besidePower, besideState, changedSince, whyNoPower } from './beside.ts';

const gap = (millimetres: string): Invented => ({ settings: { gap: millimetres } });
const counted = (invented: Invented): number => besidePower(inventedPull(invented)).length;

describe('pulls that power is held against', () => {
  it('have the same settings, however they are written', () => {
    expect(counted({ ...gap('0.55 mm'), references: [gap('0,55 mm'), gap('0.550  mm'), gap('0.70 mm')] })).toBe(2);
    expect(counted({ ...gap('0.55 mm'), references: [{}] })).toBe(1);
  });

  it('may differ in a pressure that the manifold shows, not in one that it does not', () => {
    const lower: Invented = {
      settings: { 'map target': '180 kPa' },
      change: { 'manifold-pressure': (value) => value - 20e3 },
    };
    expect(counted({ settings: { 'map target': '200 kPa' }, references: [lower] })).toBe(1);
    const tyre = { settings: { tyres: '2.0 bar' } };
    expect(counted({ settings: { tyres: '2.2 bar' }, references: [tyre] })).toBe(0);
  });

  it('lie after the last change of parts and are unspoiled', () => {
    const references: readonly Invented[] = [{ block: 1, spoiled: ['wheel-slip'] }, { block: 1 }, { block: 0 }];
    expect(counted({ block: 1, references })).toBe(1);
    expect(counted({ block: 2, references })).toBe(0);
  });

  it('are missed with a reason', () => {
    const why = (invented: Invented): string => whyNoPower(inventedPull(invented));
    expect(why({})).toBe('no earlier pull');
    expect(why({ block: 1, references: [{ block: 0 }] })).toBe('no earlier pull since parts were changed');
    expect(why({ references: [{ spoiled: ['knock'] }] })).toContain('spoiled themselves: knock');
    expect(why({ ...gap('0.5 mm'), references: [gap('0.7 mm')] })).toContain('other settings: gap');
  });

  it('leave a detector without an answer when none is left', () => {
    const found = detected(powerShortfall, { ...short(), ...gap('0.5 mm'), references: [gap('0.7 mm')] });
    expect(found).toMatchObject({ answer: 'cannot tell', why: 'the earlier pulls had other settings: gap' });
  });
});

describe('pulls that the state of the engine is held against', () => {
  it('lie after the last change of parts, or before it where there are none yet', () => {
    const scene = inventedPull({ block: 1, references: [{ block: 0 }] });
    expect(besideState(scene, [])).toHaveLength(1);
    expect(changedSince(scene, [])).toBe(true);
    expect(besideState(inventedPull({ block: 1, references: [{ block: 0 }, { block: 1 }] }), [])).toHaveLength(1);
  });

  it('are not spoiled in that respect', () => {
    const scene = inventedPull({ references: [{ spoiled: ['oil-pressure-low'] }] });
    expect(besideState(scene, ['oil-pressure-low'])).toHaveLength(0);
    expect(besideState(scene, ['crankcase-pressure'])).toHaveLength(1);
  });
});

describe('a deficit that grows over the pulls', () => {
  const step = (share: number): Invented => ({ power: () => 1 - share });
  const grown = (each: number): Invented => ({
    ...step(5 * each),
    references: [step(4 * each), step(3 * each), step(2 * each), step(each), {}, {}],
  });

  it('is seen in steps of one percent', () => {
    const found = detected(drivelineLossRising, grown(0.01));
    expect(found.answer, JSON.stringify(found.features)).toBe('seen');
    expect(found.stopClass).toBe(2);
  });

  it('is not seen in steps of a fifth of a percent', () => {
    expect(detected(drivelineLossRising, grown(0.002)).answer).toBe('not seen');
  });
});
