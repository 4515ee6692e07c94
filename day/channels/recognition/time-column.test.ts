import { describe, expect, it } from 'vitest';
import type { Proposal } from '../mapping.ts';
import { type ExampleColumn, exampleTable } from './example-table.ts';
import { proposeMapping } from './propose.ts';

const ROWS = 400;

/** Rows of a column by their number. */
function rows(value: (i: number) => number): Float64Array {
  return Float64Array.from({ length: ROWS }, (_, i) => value(i));
}

/** What is proposed for a column that stands beside a roll speed. */
function proposed(column: ExampleColumn): Proposal {
  const roll = rows((i) => 60 + 0.1 * i + 0.02 * Math.sin(7 * i));
  return proposeMapping(exampleTable([column, { name: 'roll speed', unit: 'km/h', samples: roll }]))[0];
}

const evenly = rows((i) => 0.02 * i);
const ofTheDay = rows((i) => 33_783.217 + 0.01 * i);

describe('a column that ticks', () => {
  it.each([
    ['even steps under a single letter', { name: 'T', samples: evenly }],
    ['a clock under a single letter', { name: 'T', samples: ofTheDay, writing: 'clock' }],
    ['a clock under a name that says nothing', { name: 'Stamp', samples: ofTheDay, writing: 'clock' }],
    ['a date under a name that says nothing', { name: 'Stamp', samples: ofTheDay, writing: 'date' }],
  ] as const)('%s is time, without a question', (_case, column) => {
    const proposal = proposed(column);
    expect(proposal).toMatchObject({ meaning: 'time', unit: 's' });
    expect(proposal.question).toBeUndefined();
  });

  it('is asked about when its steps are uneven: a temperature under the same letter rises too', () => {
    const samples = rows((i) => 22 + 0.01 * i + 0.004 * Math.sin(3 * i));
    expect(proposed({ name: 'T', samples }).question).toBeDefined();
  });

  it('keeps what its written unit says', () => {
    const samples = rows((i) => 22 + 0.01 * i);
    expect(proposed({ name: 'T', unit: '°C', samples }).meaning).toBe('ambient-temperature');
  });

  it('is no time under a name that says nothing, however even its numbers are', () => {
    expect(proposed({ name: 'Stamp', samples: evenly }).meaning).toBe('unknown');
  });
});
