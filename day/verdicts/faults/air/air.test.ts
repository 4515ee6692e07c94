import { describe, expect, it } from 'vitest';
import { behaves, detected } from '../../testing/behaves.ts';
import { breakup, oscillation, phaserLags, short, soaked } from '../../testing/faults.ts';
import { camNotTracking } from './cam-not-tracking.ts';
import { powerShortfall } from './power-shortfall.ts';

behaves({
  detector: camNotTracking,
  fault: phaserLags(),
  below: phaserLags(0.045),
  lookAlikes: { 'boost oscillation': oscillation(), breakup: breakup() },
  rates: [10, 100],
  span: [3, 8],
});

behaves({
  detector: powerShortfall,
  fault: short(),
  below: short(0.012),
  lookAlikes: {
    'heat soak that explains itself': { ...soaked(10), power: () => 1 - 0.033 },
    'a lower pressure that explains itself': {
      references: [{}],
      change: { 'manifold-pressure': (value) => value * 0.96 },
      power: () => 0.964,
    },
  },
  clean: { references: [{}, {}] },
});

describe('cam-not-tracking', () => {
  it('sees a phaser that is late for a short time only, when it is not so in other pulls', () => {
    const late = (value: number, { t }: { t: number }): number => value - (t > 0 && t < 0.6 ? 0.1 * (0.6 - t) : 0);
    const change = { 'cam-angle@bank A': late };
    expect(detected(camNotTracking, { change, references: [{}, {}] }).answer).toBe('seen');
    expect(detected(camNotTracking, { change, references: [{ change }, { change }] }).answer).toBe('not seen');
  });
});

describe('power-shortfall', () => {
  const references = [{}, {}, {}];

  it('says that it cannot tell a shortfall from the scatter of the pulls', () => {
    const scattering = [{ power: () => 1.012 }, { power: () => 0.99 }, { power: () => 1.01 }, { power: () => 0.988 }];
    const found = detected(powerShortfall, { power: () => 0.978, references: scattering });
    expect(found.answer, JSON.stringify(found.features)).toBe('cannot tell');
    expect(found.why).toContain('repeat');
  });

  it('is surer than faint only far beyond its limit: two and a half deviations, or the trade’s 2 %', () => {
    const short = (share: number) => detected(powerShortfall, { power: () => 1 - share, references });
    const limit = short(0.03).features[0].threshold ?? Number.NaN;
    expect(limit).toBeCloseTo(0.017, 3);
    // Two pulls show no scatter of their own: 2.5 · 0.7 % · √(1 + 1/2).
    const two = detected(powerShortfall, { power: () => 0.97, references: [{}, {}] });
    expect(two.features[0].threshold).toBeCloseTo(2.5 * 0.007 * Math.sqrt(1.5), 3);
    expect(short(1.04 * limit).answer).toBe('seen');
    expect(short(1.6 * limit).strength).toBeLessThan(0.7);
    expect(short(2 * limit).strength).toBeGreaterThan(0.7);
  });

  it('asks for a repeat where scatter can hardly be told from loss, and holds from three deviations on', () => {
    const stop = (times: number) => detected(powerShortfall, { power: () => 1 - times * 0.017, references }).stopClass;
    expect([1.1, 1.3].map(stop)).toEqual([1, 2]);
    const told = { power: () => 1 - 1.3 * 0.017, references };
    expect(detected(powerShortfall, told, { 'shortfall.hold': 1.5 }).stopClass).toBe(1);
  });

  it('does not count what one part of the speeds lost as a shortfall of the whole', () => {
    const found = detected(powerShortfall, { power: ({ place }) => (place > 0.7 ? 0.93 : 1), references });
    expect(found.answer).toBe('seen');
    expect(found.strength).toBeLessThan(0.5);
  });

  it('does not tell from a manifold pressure that reads by a wrong scale', () => {
    const change = { 'manifold-pressure': (value: number) => value * 1.06 };
    expect(detected(powerShortfall, { change, references })).toMatchObject({ answer: 'cannot tell' });
  });
});
