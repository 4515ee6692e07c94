import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkHealth } from '../health/health.ts';
import { decide } from '../recognition/decide.ts';
import { exampleTable } from '../recognition/example-table.ts';
import { proposeMapping } from '../recognition/propose.ts';
import { toRecording } from './recording.ts';

const NAMES = [
  't',
  'time [s]',
  'rpm',
  'MAP',
  'Lambda',
  'AFR',
  'IAT [C]',
  '',
  '[]',
  'Boost (',
  'power',
  'roll speed',
  'force',
  '°',
  'λ A',
  '𝛌',
];
const value = fc.oneof(
  fc.double({ min: -1e4, max: 1e4, noNaN: true }),
  fc.constantFrom(Number.NaN, 0, 1, Number.POSITIVE_INFINITY, -0, 1e300),
);

describe('any table, however odd', () => {
  it('gets one proposal per column, and a recording with every column or a refusal', () => {
    const table = fc.integer({ min: 0, max: 40 }).chain((rows) =>
      fc.array(
        fc.record({
          name: fc.oneof(fc.constantFrom(...NAMES), fc.string()),
          samples: fc.array(value, { minLength: rows, maxLength: rows }),
        }),
        { maxLength: 6 },
      ),
    );
    fc.assert(
      fc.property(table, (columns) => {
        const unique = columns.map((column, i) => ({ ...column, name: `${column.name} (${i + 2})` }));
        const read = exampleTable(unique);
        const proposals = proposeMapping(read);
        expect(proposals.map(({ column }) => column)).toEqual(unique.map(({ name }) => name));
        const outcome = toRecording({ table: read, mapping: decide(proposals).mapping, rowsPerSecond: 10 });
        if (!outcome.ok) return;
        const { channels, clock } = checkHealth(outcome.value);
        expect(channels.length).toBeGreaterThanOrEqual(unique.length - 1);
        for (const { samples, mask, refreshRate } of channels) {
          expect([samples.length, mask.length]).toEqual([clock.times.length, clock.times.length]);
          expect(samples.every((sample, i) => !Number.isNaN(sample) || mask[i] !== 0)).toBe(true);
          expect(refreshRate).toBeGreaterThan(0);
        }
      }),
      { seed: 3, numRuns: 500 },
    );
  });
});
