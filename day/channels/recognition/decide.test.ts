import { describe, expect, it } from 'vitest';
import type { Mapping } from '../mapping.ts';
import { columnSetText, decide } from './decide.ts';
import { exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

const rpm = { name: 'rpm', samples: Float64Array.from({ length: 100 }, (_, i) => 900 + 50 * i) };
const speed = { name: 'roll speed', samples: Float64Array.from({ length: 100 }, (_, i) => 40 + i) };
const proposals = proposeMapping(exampleTable([rpm, speed]));

function remembered(unit: string): Mapping {
  return { columnSet: 'x', columns: [{ column: 'rpm', meaning: 'engine-speed', unit, confirmed: true }] };
}

describe('decisions', () => {
  it('use a clear proposal unconfirmed and leave the question open, its column unnamed', () => {
    const { mapping, open } = decide(proposals);
    expect(mapping.map(({ meaning, confirmed }) => [meaning, confirmed])).toEqual([
      ['engine-speed', false],
      ['unknown', false],
    ]);
    expect(open.map(({ column }) => column)).toEqual(['roll speed']);
  });
  it('let a remembered answer win, and say when the file speaks against it', () => {
    expect(decide(proposals, remembered('rpm')).findings).toEqual([]);
    const against = decide(proposals, remembered('rad/s'));
    expect(against.mapping[0].unit).toBe('rad/s');
    expect(against.findings).toMatchObject([
      { kind: 'mapping-disagrees', numbers: { remembered: 'rad/s', proposed: 'rpm' } },
    ]);
  });
});

describe('a remembered unit', () => {
  it('is not doubted where the numbers cannot tell, and is where they contradict the header', () => {
    const speedMapping = {
      columnSet: 'x',
      columns: [{ column: 'roll speed', meaning: 'roll-speed', unit: 'mph', confirmed: true }],
    } as const;
    expect(decide(proposals, speedMapping).findings).toEqual([]);
    const pressure = { name: 'MAP [kPa]', samples: Float64Array.from({ length: 100 }, (_, i) => 5 + 0.2 * i) };
    const mapping = {
      columnSet: 'x',
      columns: [{ column: 'MAP [kPa]', meaning: 'manifold-pressure', unit: 'kPa', confirmed: true }],
    } as const;
    expect(decide(proposeMapping(exampleTable([pressure])), mapping).findings).toMatchObject([
      { kind: 'mapping-disagrees' },
    ]);
  });
});

describe('the text of a column set', () => {
  it('differs when a unit differs and not when values do', () => {
    const text = columnSetText(exampleTable([rpm, speed]));
    expect(columnSetText(exampleTable([rpm, { ...speed, unit: 'mph' }]))).not.toBe(text);
    expect(columnSetText(exampleTable([rpm, { ...speed, samples: rpm.samples }]))).toBe(text);
  });
});
