import { describe, expect, it } from 'vitest';
import type { Fault } from '../detector.ts';
import type { WeighingModel } from './model.ts';
import { made, plainModel, window } from './testing/made.ts';
import { type WeighedEpisode, weighedEpisodes } from './weighed.ts';

/** A speed that lies sets off two detectors that do not compete with one another; the first of them is trusted more. */
const FAULTS = ['turbo-overspeed', 'wrong-scale', 'compressor-choke'] as const;
const overspeed = made('turbo-overspeed', { strength: 0.95 });
const scale = made('wrong-scale', { strength: 0.8, lookAlikes: ['turbo-overspeed', 'compressor-choke'] });
const choke = made('compressor-choke', { strength: 0.6 });

/** speaks: how much the overspeed that is seen speaks for a scale that is wrong. */
function model(speaks: number): WeighingModel {
  const plain = plainModel(FAULTS);
  const trust = { ...plain.trust, 'turbo-overspeed': { faint: 0.95, clear: 0.95, sure: 0.95 } };
  const own = plain.weights['said:turbo-overspeed'];
  const told = { ...own, 'turbo-overspeed': { sure: 1 }, 'wrong-scale': { sure: speaks } };
  return { ...plain, trust, weights: { ...plain.weights, 'said:turbo-overspeed': told } };
}

const told = (episodes: readonly WeighedEpisode<typeof scale>[]): readonly (readonly Fault[])[] =>
  episodes.map(({ leader, members }) => [leader.fault, ...members.map(({ fault }) => fault)]);

const weighed = (speaks: number, detections = [overspeed, scale, choke]) =>
  weighedEpisodes(detections, model(speaks), () => ({}));

describe('a member that is the likely cause', () => {
  it('takes the lead, and what else looks like it goes with it', () => {
    const [only, ...rest] = weighed(4);
    expect(rest).toEqual([]);
    expect(only.leader.fault).toBe('wrong-scale');
    expect(only.causes[0].of.fault).toBe('wrong-scale');
    expect(only.members.map(({ fault }) => fault)).toEqual(
      expect.arrayContaining(['turbo-overspeed', 'compressor-choke']),
    );
  });

  it('does not where the leader stays the likelier cause', () => {
    expect(told(weighed(-3))).toEqual([
      expect.arrayContaining(['turbo-overspeed', 'wrong-scale']),
      expect.arrayContaining(['compressor-choke']),
    ]);
  });

  it('does not take along what was seen elsewhere', () => {
    const later = { ...choke, windows: [window(10, 12)] };
    const [first, ...rest] = weighed(4, [overspeed, { ...scale, windows: [window(7, 9)] }, later]);
    expect(first.causes[0].of.fault).toBe('wrong-scale');
    expect(rest.map(({ leader }) => leader.fault)).toEqual(['compressor-choke']);
  });
});
