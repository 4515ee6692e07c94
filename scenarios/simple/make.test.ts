import { describe, expect, it } from 'vitest';
import type { EntryTruth, MadeDay } from '../truth.ts';
import type { RollerKind } from './draw.ts';
import { makeSimpleDay } from './make.ts';

const KINDS: readonly RollerKind[] = ['brake', 'inertia', 'combined'];
const CASES = KINDS.flatMap((roller) => [1, 2, 3, 4, 5, 6, 7, 8].map((seed) => ({ seed, roller })));

function textsOf(day: MadeDay): string[] {
  return day.files.map((file) => new TextDecoder(file.bytes[0] === 0xff ? 'utf-16le' : 'utf-8').decode(file.bytes));
}

function pullOf(day: MadeDay): EntryTruth {
  const pull = day.truth.entries.find((entry) => entry.kind === 'pull');
  if (!pull) throw new Error('no pull');
  return pull;
}

/** Work over the curve [J]. */
function workOf(curve: EntryTruth['curve'], power: readonly number[]): number {
  let work = 0;
  for (let k = 1; k < power.length; k += 1) {
    work += (((power[k] ?? 0) + (power[k - 1] ?? 0)) / 2) * ((curve.time[k] ?? 0) - (curve.time[k - 1] ?? 0));
  }
  return work;
}

describe('a simple day', () => {
  it.each(CASES)('is the same with the same seed: $seed, $roller', ({ seed, roller }) => {
    const options = { seed, roller, pulls: 1 };
    expect(textsOf(makeSimpleDay(options)).join()).toBe(textsOf(makeSimpleDay(options)).join());
  });

  it.each(CASES)('keeps its energy from engine to roll: $seed, $roller', ({ seed, roller }) => {
    const day = makeSimpleDay({
      seed,
      roller,
      noise: false,
      pulls: 1,
      instruments: 'drawn',
      engine: { transmission: 'manual' },
    });
    const { rig } = day.truth;
    const { curve } = pullOf(day);
    const drag = curve.tyrePower.map((power, k) => {
      const speed = power / (curve.tyreForce[k] ?? 1);
      return (rig.dragAtRest + rig.dragPerSpeed * speed) * speed;
    });
    const first = curve.engineSpeed[0] ?? 0;
    const last = curve.engineSpeed.at(-1) ?? 0;
    const rotating = (rig.engineInertia * (1 - rig.lossShare) + rig.wheelInertia / rig.ratio ** 2) / 2;
    const stored = rotating * (last ** 2 - first ** 2);
    const given = (1 - rig.lossShare) * workOf(curve, curve.enginePower);
    const taken = workOf(curve, curve.tyrePower) + workOf(curve, drag) + stored;
    expect(Math.abs(taken / given - 1)).toBeLessThan(0.005);
  });

  it('stores all work in the flywheel of an inertia roller', () => {
    const day = makeSimpleDay({ seed: 11, roller: 'inertia', noise: false, pulls: 1 });
    const { curve } = pullOf(day);
    const speed = (k: number): number => (curve.rollPower.at(k) ?? 0) / (curve.tyreForce.at(k) ?? 1);
    const kinetic = (day.truth.rig.rollMass / 2) * (speed(-1) ** 2 - speed(0) ** 2);
    expect(Math.abs(kinetic / workOf(curve, curve.rollPower) - 1)).toBeLessThan(0.005);
    expect(textsOf(day).join()).not.toMatch(/lbf|\[N\]|\[kN\]|Load cell|Brake force/);
  });

  it('reaches about the power it was asked for', () => {
    const day = makeSimpleDay({ seed: 4, roller: 'brake', noise: false, pulls: 1, engine: { power: 120e3 } });
    expect(Math.max(...pullOf(day).curve.enginePower) / 120e3).toBeCloseTo(1, 1);
  });

  it('slips in the converter when it has one', () => {
    const options = { seed: 6, roller: 'brake', noise: false, pulls: 1, oneFile: true } as const;
    const locked = pullOf(makeSimpleDay({ ...options, engine: { transmission: 'manual' } })).curve;
    const slipping = pullOf(
      makeSimpleDay({ ...options, engine: { transmission: 'converter', converterSlip: 0.05 } }),
    ).curve;
    const share = (curve: EntryTruth['curve']): number => (curve.tyrePower[200] ?? 0) / (curve.enginePower[200] ?? 1);
    expect(share(slipping) / share(locked)).toBeLessThan(0.98);
  });

  it('writes one file or two, at the asked rates, in the asked units and dialect', () => {
    const one = makeSimpleDay({
      seed: 1,
      roller: 'brake',
      oneFile: true,
      pulls: 1,
      units: 'imperial',
      dialect: 'semicolon',
    });
    const two = makeSimpleDay({
      seed: 1,
      roller: 'brake',
      oneFile: false,
      pulls: 1,
      rates: { roller: 50, engine: 200 },
    });
    expect(one.files).toHaveLength(4);
    expect(two.files).toHaveLength(7);
    expect(textsOf(one)[2]).toMatch(/mph/);
    expect(textsOf(one)[2]).toMatch(/;\d+,\d/);
    const lines = textsOf(two).map((text) => text.split('\n').length);
    expect((lines[4] ?? 0) / (lines[3] ?? 1)).toBeGreaterThan(3.5);
    expect(one.truth.entries[1]?.clock).toBeUndefined();
    expect(two.truth.entries[1]?.clock?.offset).toBeGreaterThan(0);
  });

  it('leaves out what is missing', () => {
    const day = makeSimpleDay({
      seed: 2,
      roller: 'brake',
      oneFile: true,
      pulls: 1,
      missing: ['force', 'lambda', 'vehicle.tyre radius'],
    });
    const texts = textsOf(day);
    expect(texts[0]).not.toContain('tyre radius');
    expect(texts[0]).toContain('overall ratio');
    expect(texts[2]).not.toMatch(/lambda|load cell|brake force/i);
  });

  it('says in every file that it is invented', () => {
    for (const text of textsOf(makeSimpleDay({ seed: 9, roller: 'combined' }))) {
      expect(text.toLowerCase().slice(0, 300)).toContain('invented');
    }
  });

  it('puts asked faults into the last pull, with their windows', () => {
    const day = makeSimpleDay({ seed: 5, roller: 'brake', pulls: 2, faults: ['wheel slip', 'roller gap'] });
    const pulls = day.truth.entries.filter((entry) => entry.kind === 'pull');
    expect(pulls[0]?.faults).toHaveLength(0);
    expect(pulls[1]?.faults.map((fault) => fault.kind)).toEqual(['wheel slip', 'roller gap']);
    for (const fault of pulls[1]?.faults ?? []) expect(fault.toTime).toBeGreaterThan(fault.fromTime + 0.3);
    expect(Math.max(...(pulls[1]?.slip.slip ?? []))).toBeGreaterThan(0.08);
  });
});
