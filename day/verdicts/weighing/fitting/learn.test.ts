import { describe, expect, it } from 'vitest';
import { randomSource } from '../../../../core/numerics/index.ts';
import { brierScore, calibrationError } from '../calibration.ts';
import { weighedEpisodes } from '../weighed.ts';
import { claimsOf, learntModel } from './learn.ts';
import { type PullSample, type SaidSample, wasThere } from './samples.ts';
import { countedTables, smoothed } from './tables.ts';

const FAULTS = ['wheel-slip', 'clutch-slip', 'ignition-breakup', 'knock'] as const;
type Kind = (typeof FAULTS)[number];
const SUBJECTS = {
  'wheel-slip': 'traction',
  'clutch-slip': 'driveline',
  'ignition-breakup': 'spark',
  knock: 'knock',
} as const;

/** How often each detector sees what: rows are what was there, columns what is seen. Slip makes the drive rough as well. */
const SEES: Readonly<Record<Kind | 'nothing', Readonly<Record<Kind, number>>>> = {
  'wheel-slip': { 'wheel-slip': 0.9, 'clutch-slip': 0.05, 'ignition-breakup': 0.5, knock: 0.02 },
  'clutch-slip': { 'wheel-slip': 0.6, 'clutch-slip': 0.8, 'ignition-breakup': 0.02, knock: 0.02 },
  'ignition-breakup': { 'wheel-slip': 0.02, 'clutch-slip': 0.02, 'ignition-breakup': 0.9, knock: 0.02 },
  knock: { 'wheel-slip': 0.02, 'clutch-slip': 0.02, 'ignition-breakup': 0.02, knock: 0.85 },
  nothing: { 'wheel-slip': 0.03, 'clutch-slip': 0.02, 'ignition-breakup': 0.05, knock: 0.04 },
};

/** Pulls of pseudo-evidence: drawn from the rates above, never through a detector. */
function pseudoPulls(count: number, seed: number): PullSample[] {
  const random = randomSource(seed);
  return Array.from({ length: count }, (_, i): PullSample => {
    const there: Kind | 'nothing' = random.uniform() < 0.5 ? 'nothing' : FAULTS[random.integer(FAULTS.length)];
    const said = FAULTS.map((fault): SaidSample => {
      const seen = random.uniform() < SEES[there][fault];
      const base = {
        fault,
        subject: SUBJECTS[fault],
        strength: seen ? 0.4 + 0.6 * random.uniform() : 0,
        windows: seen ? [{ from: 4, to: 6 }] : [],
      };
      const lookAlikes = fault === 'clutch-slip' ? (['wheel-slip'] as const) : [];
      const tied = there === 'wheel-slip' || there === 'clutch-slip' ? 'free' : 'tied';
      return { ...base, lookAlikes, answer: seen ? 'seen' : 'not seen', ...(seen ? { items: { tied } } : {}) };
    });
    const truths = there === 'nothing' ? [] : [{ fault: there, strength: 2, from: 4, to: 6 }];
    return { day: `${i}`, seed: i, pull: `${i}`, decoy: false, truths, said };
  });
}

describe('learning from pulls', () => {
  const model = learntModel(pseudoPulls(600, 1), FAULTS);
  const fresh = pseudoPulls(600, 2);

  it('tells probabilities that hold on pulls it has not seen', () => {
    const claims = claimsOf(fresh, model);
    const strengthOf = ({ pull, fault }: (typeof claims)[number]): number =>
      fresh.find((one) => one.pull === pull)?.said.find((one) => one.fault === fault)?.strength ?? 0;
    expect(claims.length).toBeGreaterThan(200);
    expect(calibrationError(claims)).toBeLessThan(0.09);
    expect(brierScore(claims)).toBeLessThan(0.14);
    const believed = claims.map((claim) => ({ ...claim, probability: strengthOf(claim) }));
    expect(brierScore(claims)).toBeLessThan(0.7 * brierScore(believed));
  });

  it('is better than believing every detector', () => {
    const claims = claimsOf(fresh, model).filter(({ rank }) => rank === 0);
    const wrong = claims.filter(({ probability, right }) => probability >= 0.5 && !right).length;
    const seen = fresh.flatMap((pull) =>
      pull.said.filter(({ answer }) => answer === 'seen').map((one) => wasThere(pull, one.fault, one.windows)),
    );
    expect(wrong / claims.length).toBeLessThan(0.7 * (seen.filter((right) => !right).length / seen.length));
  });

  it('finds out that slip explains rough drive, and that knock explains nothing', () => {
    expect(model.explains['wheel-slip']).toEqual(['ignition-breakup']);
    expect(model.explains.knock).toBeUndefined();
  });

  it('leads with slip where slip and breakup are both seen, and with breakup where it is alone', () => {
    const both = weighedEpisodes(said(['wheel-slip', 'ignition-breakup'], 'free'), model, () => ({ tied: 'free' }));
    const alone = weighedEpisodes(said(['ignition-breakup'], 'tied'), model, () => ({ tied: 'tied' }));
    expect(both.map(({ causes }) => causes[0].of.fault)).toEqual(['wheel-slip']);
    expect(alone[0].causes[0].of.fault).toBe('ignition-breakup');
  });

  it('learns nothing from nothing, and says so by weights of 0', () => {
    const empty = countedTables([], ['knock']);
    expect(empty.trust.knock).toEqual({ faint: 0.5, clear: 0.7, sure: 0.85 });
    expect(empty.weights['said:knock']?.knock?.clear).toBeGreaterThan(1);
    expect(empty.explains).toEqual({});
  });
});

function said(seen: readonly Kind[], tied: string): SaidSample[] {
  return FAULTS.map((fault) => ({
    ...{ fault, subject: SUBJECTS[fault], answer: seen.includes(fault) ? 'seen' : 'not seen', strength: 0.8 },
    ...{ windows: seen.includes(fault) ? [{ from: 4, to: 6 }] : [], items: { tied } },
    lookAlikes: fault === 'clutch-slip' ? ['wheel-slip'] : [],
  }));
}

describe('smoothed shares', () => {
  it('are what was expected without counts, and what was counted with many', () => {
    expect(smoothed({}, { yes: 0.25, no: 0.75 }, 4)).toEqual({ yes: 0.25, no: 0.75 });
    expect(smoothed({ yes: 4000 }, { yes: 0.25, no: 0.75 }, 4).yes).toBeGreaterThan(0.999);
    // (3 + 4·0.25)/(3 + 4), by hand
    expect(smoothed({ yes: 3 }, { yes: 0.25, no: 0.75 }, 4).yes).toBeCloseTo(4 / 7, 12);
  });
});
