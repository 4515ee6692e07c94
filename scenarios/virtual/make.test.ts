import { describe, expect, test } from 'vitest';
import { readDay } from '../testing/read-day.ts';
import { truthAt } from '../truth.ts';
import { decoyNames } from './decoys.ts';
import { allFaults, drawVirtual, STRENGTHS } from './draw.ts';
import { makeVirtualDay } from './make.ts';

const bytes = (seed: number): string =>
  makeVirtualDay({ seed, fault: 'knock', strength: 2 })
    .files.map((file) => `${file.name} ${Buffer.from(file.bytes).toString('base64')}`)
    .join('\n');

describe('a virtual day', () => {
  test('has the same bytes for the same options, others for another seed', () => {
    expect(bytes(21)).toBe(bytes(21));
    expect(bytes(21)).not.toBe(bytes(22));
  });

  test('says what was put in, where, and which channels are there', () => {
    const { truth } = makeVirtualDay({ seed: 5, fault: 'crankcase-pressure', strength: 2, level: 'rich' });
    const having = truth.entries.filter(({ faults }) => faults.length > 0);
    expect(having.map(({ faults }) => faults[0]?.strength)).toEqual([2 / 3, 4 / 3, 2].map((s) => expect.closeTo(s, 9)));
    expect(having.at(-1)?.channels).toContain('manifold-pressure');
    const fault = having.at(-1)?.faults[0];
    expect(fault).toMatchObject({ kind: 'crankcase-pressure', stopClass: 2, size: { rise: 2000 } });
    expect(fault?.moved).toContain('crankcase-pressure');
    expect(fault?.toSpeed).toBeGreaterThan(fault?.fromSpeed ?? Number.NaN);
  });

  test('holds power = torque · speed in its truth', () => {
    const { truth } = makeVirtualDay({ seed: 6 });
    const pull = truth.entries.find(({ kind }) => kind === 'pull');
    const speed = pull?.curve.engineSpeed[300] ?? Number.NaN;
    if (!pull) throw new Error('no pull');
    expect(truthAt(pull.curve, 'enginePower', speed)).toBeCloseTo(truthAt(pull.curve, 'torque', speed) * speed, 3);
  });

  test('marks a decoy as one', () => {
    for (const name of decoyNames()) {
      const { truth } = makeVirtualDay({ seed: 8, decoys: [name], level: 'rich', rates: { roller: 10, engine: 10 } });
      const marked = truth.entries.flatMap(({ faults }) => faults);
      expect(marked.length, name).toBeGreaterThan(0);
      expect(marked.every(({ decoy, kind }) => decoy === true && kind === name)).toBe(true);
    }
  });

  test('takes several faults into one pull', () => {
    const faults = [{ fault: 'wheel-slip', strength: 4 }, { fault: 'spikes' }] as const;
    const { truth } = makeVirtualDay({ seed: 9, faults, level: 'rich' });
    expect(truth.entries.map(({ faults: put }) => put.map(({ kind }) => kind))).toContainEqual([
      'wheel-slip',
      'spikes',
    ]);
  });

  test('is read as it lies on the disk: every pull of six drawn days is one', () => {
    for (const seed of [2, 5, 13, 23, 36, 55]) {
      const day = makeVirtualDay(drawVirtual(seed));
      const { report } = readDay(day);
      const pulls = report.entries.filter(({ facts }) => facts.kind === 'pull');
      expect(
        pulls.every(({ result }) => result?.pulls.some(({ refusal }) => refusal === undefined)),
        `${seed}`,
      ).toBe(true);
    }
  });
});

describe('the set of drawn days', () => {
  const drawn = Array.from({ length: 300 }, (_, k) => drawVirtual(k + 1));

  test('has at least a fifth of clean days and 15 % with a decoy', () => {
    expect(drawn.filter(({ faults, decoys }) => !faults && !decoys).length).toBeGreaterThanOrEqual(60);
    expect(drawn.filter(({ decoys }) => decoys).length).toBeGreaterThanOrEqual(45);
  });

  test('has every fault at every strength', () => {
    const met = new Set(
      drawn.flatMap(({ faults }) => (faults ?? []).map(({ fault, strength }) => `${fault} ${strength}`)),
    );
    expect(met.size).toBe(allFaults().length * STRENGTHS.length);
  });

  test('is the same every time', () => {
    expect(drawVirtual(17)).toEqual(drawVirtual(17));
  });
});
