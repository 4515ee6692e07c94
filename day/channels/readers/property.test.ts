import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Dialect, Table } from '../table.ts';
import { readDelimited } from './delimited.ts';
import { delimitedStream } from './delimited-stream.ts';
import { detectDialect } from './dialect.ts';

const SIGN_FINDINGS = new Set(['decimal-assumed', 'thousands-mark', 'other-decimal-sign', 'decimal-decided-late']);
const RUNS = { seed: 20310502, numRuns: 300 };

interface Written {
  readonly text: string;
  readonly bytes: Uint8Array;
  readonly values: readonly (readonly number[])[];
  readonly delimiter: string;
  readonly decimal: string;
}

const encoded: Record<Dialect['encoding'], (text: string) => Uint8Array> = {
  'utf-8': (text) => new TextEncoder().encode(text),
  'latin-1': (text) => Uint8Array.from(text, (c) => c.charCodeAt(0)),
  'utf-16le': (text) =>
    Uint8Array.from([0xff, 0xfe, ...[...text].flatMap((c) => [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8])]),
  'utf-16be': (text) =>
    Uint8Array.from([0xfe, 0xff, ...[...text].flatMap((c) => [c.charCodeAt(0) >> 8, c.charCodeAt(0) & 255])]),
};

/** A random table in a random dialect. The first row proves the decimal sign, as a file of any length does. */
const written: fc.Arbitrary<Written> = fc
  .record({
    columns: fc.integer({ min: 2, max: 6 }),
    signs: fc.constantFrom([',', '.'], [';', ','], [';', '.'], ['\t', ','], ['\t', '.'], ['|', '.'], ['|', ',']),
    encoding: fc.constantFrom<Dialect['encoding']>('utf-8', 'latin-1', 'utf-16le', 'utf-16be'),
    lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
    preamble: fc.constantFrom([], ['Log of a test'], ['Log of a test', '', 'made by hand']),
    units: fc.boolean(),
    trailing: fc.boolean(),
    quoted: fc.boolean(),
    values: fc.array(
      fc.array(
        fc.oneof(
          { weight: 8, arbitrary: fc.double({ min: -1e7, max: 1e7, noNaN: true }) },
          { weight: 2, arbitrary: fc.integer({ min: -9999, max: 9999 }) },
          { weight: 1, arbitrary: fc.constant(Number.NaN) },
        ),
        { minLength: 6, maxLength: 6 },
      ),
      { minLength: 4, maxLength: 12 },
    ),
  })
  .map(({ columns, signs: [delimiter, decimal], encoding, lineEnd, preamble, units, trailing, quoted, values }) => {
    const rows = [Array.from({ length: columns }, (_, k) => k + 0.25), ...values.map((row) => row.slice(0, columns))];
    const cell = (value: number): string =>
      Number.isNaN(value) ? '' : Object.is(value, -0) ? '-0' : String(value).replace('.', decimal);
    const line = (cells: readonly string[]): string =>
      `${cells.map((c) => (quoted ? `"${c}"` : c)).join(delimiter)}${trailing ? delimiter : ''}`;
    const names = line(Array.from({ length: columns }, (_, k) => `channel ${k} °`));
    const unitRow = units ? [line(Array.from({ length: columns }, (_, k) => ['s', 'km/h', 'N'][k % 3]))] : [];
    const text = `${[...preamble, names, ...unitRow, ...rows.map((row) => line(row.map(cell)))].join(lineEnd)}${lineEnd}`;
    return { text, bytes: encoded[encoding](text), values: rows, delimiter, decimal };
  });

function tableOf(bytes: Uint8Array): Table | undefined {
  const outcome = readDelimited({ bytes, file: 'log', source: '' });
  return outcome.ok ? outcome.value : undefined;
}

describe('what was written is what is read', () => {
  it('to the last bit, in every dialect', () => {
    fc.assert(
      fc.property(written, ({ bytes, values }) => {
        const table = tableOf(bytes);
        expect(table?.columns.map(({ samples }) => [...samples])).toEqual(
          values[0].map((_, k) => values.map((row) => row[k])),
        );
      }),
      RUNS,
    );
  });

  it('whatever the size of the chunks, one byte included', () => {
    fc.assert(
      fc.property(written, fc.integer({ min: 1, max: 40 }), ({ bytes }, size) => {
        const found = detectDialect(bytes);
        if (!found.ok) return;
        expect(streamed(bytes, found.value.dialect, size)).toEqual(streamed(bytes, found.value.dialect, bytes.length));
        expect(streamed(bytes, found.value.dialect, 1)).toEqual(streamed(bytes, found.value.dialect, bytes.length));
      }),
      { ...RUNS, numRuns: 100 },
    );
  });
});

describe('damaged bytes', () => {
  const damage = fc.record({
    kind: fc.constantFrom('flip', 'cut', 'insert', 'double'),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    length: fc.integer({ min: 1, max: 40 }),
    byte: fc.oneof(fc.integer({ min: 0, max: 255 }), fc.constantFrom(10, 13, 34, 35, 44, 46, 59, 9, 0)),
  });
  const damaged = (
    bytes: Uint8Array,
    { kind, at, length, byte }: { kind: string; at: number; length: number; byte: number },
  ): Uint8Array => {
    const from = Math.floor(at * (bytes.length - 1));
    const to = Math.min(bytes.length, from + length);
    if (kind === 'cut') return Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(to)]);
    if (kind === 'insert') return Uint8Array.from([...bytes.subarray(0, from), byte, ...bytes.subarray(from)]);
    if (kind === 'double') return Uint8Array.from([...bytes.subarray(0, to), ...bytes.subarray(from)]);
    return bytes.map((own, k) => (k === from ? byte : own));
  };

  it('give a refusal or a sound table, within a second, and never another decimal sign', () => {
    fc.assert(
      fc.property(written, fc.array(damage, { minLength: 1, maxLength: 3 }), ({ bytes, decimal }, blows) => {
        const hurt = blows.reduce(damaged, bytes);
        const start = performance.now();
        const table = tableOf(hurt);
        expect(performance.now() - start).toBeLessThan(1000);
        if (table?.format.kind !== 'delimited') return;
        const { dialect } = table.format;
        for (const { samples, mask } of table.columns) {
          expect(samples.length).toBe(table.rows);
          expect(mask.length).toBe(table.rows);
          samples.forEach((value, k) => {
            expect(Number.isNaN(value)).toBe(mask[k] !== 0);
          });
        }
        // Another sign may only be read where it turns no number into another one, or where a finding says so.
        if (dialect.decimal === decimal) return;
        const isWhole = table.columns.every(({ samples }) =>
          samples.every((value) => Number.isNaN(value) || Number.isInteger(value)),
        );
        const says = table.findings.some(({ kind }) => SIGN_FINDINGS.has(kind));
        const isNewProof = hurt.some((byte, k) => byte !== bytes[k] && byte === dialect.decimal.charCodeAt(0));
        expect(isWhole || says || isNewProof).toBe(true);
      }),
      { ...RUNS, numRuns: 2000 },
    );
  });
});

/** Everything a stream hands on, as plain values. */
function streamed(bytes: Uint8Array, dialect: Dialect, size: number): unknown {
  const rows: number[][] = [];
  const stream = delimitedStream({
    dialect,
    file: 'log',
    onBlock(block) {
      for (let r = 0; r < block.rows; r++)
        rows.push([...block.samples.map((c) => c[r]), ...block.mask.map((c) => c[r])]);
    },
  });
  for (let at = 0; at < bytes.length; at += size) stream.push(bytes.subarray(at, at + size));
  const ended = stream.end();
  return {
    rows,
    ended: ended.ok
      ? { ...ended.value, columns: ended.value.columns.map(({ name, unit, writing }) => ({ name, unit, writing })) }
      : ended,
  };
}
