import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { zstdCompressSync, zstdDecompressSync } from 'node:zlib';
import * as arrow from 'apache-arrow';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { afterAll, describe, expect, it } from 'vitest';
import type { Outcome } from '../../core/quantities/index.ts';
import { readDelimited } from '../../day/channels/readers/delimited.ts';
import type { Table } from '../../day/channels/table.ts';
import { exportChannels, textCell } from './export-channels.ts';
import { fileSha256, openTable } from './open-table.ts';
import { loadColumns, scanFile } from './scan.ts';
import { sha256Hex } from './sha256.ts';

arrow.compressionRegistry.set(arrow.CompressionType.ZSTD, {
  encode: (data: Uint8Array) => zstdCompressSync(data),
  decode: (data: Uint8Array) => zstdDecompressSync(data),
});

const folder = mkdtempSync(join(tmpdir(), 'knurl-files-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

function table<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
}

const shown = ({ columns }: Table) =>
  columns.map(({ name, unit, writing, samples, texts }) => ({ name, unit, writing, samples: [...samples], texts }));
const _ = Number.NaN;

/** A text of many rows, long enough to be read by several threads. */
function longText(rows: number, row: (k: number) => string): string {
  const lines = ['time [s],a [N],b'];
  for (let k = 0; k < rows; k++) lines.push(row(k));
  return `${lines.join('\n')}\n`;
}

describe('a log file is opened by its content', () => {
  it('bears the hash of its bytes, however it was read', async () => {
    // FIPS 180-4 example: SHA-256 of "abc".
    expect(sha256Hex(new TextEncoder().encode('abc'))).toBe(
      'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    );
    const text = 'a,b\n1.5,2\n';
    const path = written('small.parquet', text);
    const opened = table(await openTable(path));
    expect(opened).toMatchObject({
      source: sha256Hex(Buffer.from(text)),
      file: 'small.parquet',
      rows: 1,
      format: { kind: 'delimited' },
    });
    expect(table(await fileSha256(path))).toBe(opened.source);
    expect(shown(table(await openTable(Buffer.from(text))))).toEqual(shown(opened));
  });
  it('is refused where it is missing or no file', async () => {
    expect(await openTable(join(folder, 'none.csv'))).toMatchObject({ ok: false, refusal: { kind: 'missing-file' } });
    expect(await openTable(folder)).toMatchObject({ ok: false, refusal: { kind: 'not-a-file' } });
    expect(await openTable(written('empty.csv', ''))).toMatchObject({ ok: false, refusal: { kind: 'empty-file' } });
  });
});

describe('a long delimited file', () => {
  const plain = (k: number): string => `${(k * 0.01).toFixed(2)},${(k % 977) * 1.5},${k % 5 === 0 ? '' : k}`;
  it.each([
    { name: 'plain', row: plain },
    {
      name: 'with remarks, blank lines and short rows',
      row: (k: number) => (k % 1000 === 7 ? '# remark' : k % 1000 === 9 ? '' : k % 1001 === 3 ? '1,2' : plain(k)),
    },
    {
      name: 'with words on and off and odd texts',
      row: (k: number) => `${k},${k % 3 === 0 ? 'on' : 'off'},${k === 800_000 ? 'oops' : k}`,
    },
    { name: 'with quotes below the head', row: (k: number) => (k === 700_000 ? `${k},"1","two\nlines"` : plain(k)) },
  ])('gives the same by several threads as from front to back: $name', async ({ row }) => {
    const text = longText(900_000, row);
    const path = written('long.csv', text);
    const inOne = table(readDelimited({ bytes: Buffer.from(text), file: 'long.csv', source: '' }));
    const opened = table(await openTable(path));
    expect(opened.rows).toBe(inOne.rows);
    expect(opened.findings).toEqual(inOne.findings);
    opened.columns.forEach((column, k) => {
      const other = inOne.columns[k];
      expect({ ...column, samples: 0, mask: 0 }).toEqual({ ...other, samples: 0, mask: 0 });
      expect(
        Buffer.compare(
          Buffer.from(Float64Array.from(column.samples).buffer),
          Buffer.from(Float64Array.from(other.samples).buffer),
        ),
      ).toBe(0);
      expect(Buffer.compare(Buffer.from(column.mask), Buffer.from(other.mask))).toBe(0);
    });
  });
  it('stops when it is cancelled', async () => {
    const path = written('cancelled.csv', longText(900_000, plain));
    const at = AbortSignal.abort();
    expect(await openTable(path, { signal: at })).toMatchObject({ ok: false, refusal: { kind: 'cancelled' } });
    expect(await scanFile(path, { signal: at })).toMatchObject({ ok: false, refusal: { kind: 'cancelled' } });
    const controller = new AbortController();
    const stopped = await scanFile(path, { signal: controller.signal, progress: () => controller.abort() });
    expect(stopped).toMatchObject({ ok: false, refusal: { kind: 'cancelled' } });
  });
  it('is scanned in one pass: counts, range, mean and an even sketch', async () => {
    const path = written('scan.csv', longText(900_000, plain));
    const shares: number[] = [];
    const scan = table(await scanFile(path, { progress: (share) => shares.push(share) }));
    expect(scan).toMatchObject({ rows: 900_000, findings: [] });
    expect(scan.columns[0]).toMatchObject({
      name: 'time',
      unit: 's',
      count: 900_000,
      missing: 0,
      min: 0,
      max: 8999.99,
    });
    expect(scan.columns[2]).toMatchObject({ count: 720_000, missing: 180_000, min: 1, max: 899_999, mean: 450_000 });
    const { sketch, sketchStep } = scan.columns[0];
    expect(sketch.length).toBeLessThanOrEqual(4096);
    expect(sketch.length).toBeGreaterThan(2000);
    expect(sketch[5]).toBeCloseTo(5 * sketchStep * 0.01, 9);
    expect(shares.at(-1)).toBe(1);
  });
  it('gives chosen columns in a second pass and names those it does not have', async () => {
    const path = written('columns.csv', longText(900_000, plain));
    const chosen = table(await loadColumns(path, ['b']));
    expect(chosen.columns.map(({ name }) => name)).toEqual(['b']);
    expect(chosen.columns[0].samples[899_999]).toBe(899_999);
    expect(await loadColumns(path, ['b', 'boost'])).toMatchObject({
      ok: false,
      refusal: { kind: 'missing-column', numbers: { missing: 'boost' } },
    });
  });
});

describe('a Parquet file', () => {
  const bytes = new Uint8Array(
    parquetWriteBuffer({
      columnData: [
        { name: 'time', data: [new Date(1500), new Date(2500), new Date(3500)], type: 'TIMESTAMP' },
        { name: 'speed [km/h]', data: [1.5, null, 3], type: 'DOUBLE' },
        { name: 'count', data: [1n, 2n, null], type: 'INT64' },
        { name: 'on', data: [true, false, null], type: 'BOOLEAN' },
        { name: 'word', data: ['x', null, 'y'], type: 'STRING' },
        { name: 'force', data: [1, 2, 3], type: 'FLOAT' },
      ],
      rowGroupSize: 2,
      kvMetadata: [{ key: 'units', value: '{"force":"N"}' }],
    }),
  );
  const expected = [
    { name: 'time', unit: '', writing: 'date', samples: [1.5, 2.5, 3.5], texts: [] },
    { name: 'speed', unit: 'km/h', writing: 'number', samples: [1.5, _, 3], texts: [] },
    { name: 'count', unit: '', writing: 'number', samples: [1, 2, _], texts: [] },
    { name: 'on', unit: '', writing: 'number', samples: [1, 0, _], texts: [] },
    { name: 'word', unit: '', writing: 'text', samples: [_, _, _], texts: ['x', 'y'] },
    { name: 'force', unit: 'N', writing: 'number', samples: [1, 2, 3], texts: [] },
  ];
  it('is a table, from memory and from disk', async () => {
    expect(shown(table(await openTable(bytes)))).toEqual(expected);
    const opened = table(await openTable(written('log.csv', bytes)));
    expect(shown(opened)).toEqual(expected);
    expect(opened).toMatchObject({ rows: 3, format: { kind: 'parquet' }, source: sha256Hex(bytes) });
    expect([...opened.columns[4].mask]).toEqual([2, 1, 2]);
  });
  it('leaves out lists and records and says so', async () => {
    const nested = parquetWriteBuffer({
      columnData: [
        { name: 'a', data: [1, 2], type: 'DOUBLE' },
        { name: 'list', data: [{ x: 1 }, { x: 2 }], type: 'VARIANT' },
      ],
    });
    const opened = table(await openTable(new Uint8Array(nested)));
    expect(opened.columns.map(({ name }) => name)).toEqual(['a']);
    expect(opened.findings).toMatchObject([{ kind: 'not-a-plain-column', place: { channel: 'list' } }]);
  });
  it('is refused when it is damaged', async () => {
    expect(await openTable(bytes.subarray(0, bytes.length - 20))).toMatchObject({
      ok: false,
      refusal: { kind: 'damaged-file' },
    });
  });
});

describe('an Arrow file or stream', () => {
  const vector = (values: readonly unknown[], type: arrow.DataType) => arrow.vectorFromArray([...values], type);
  const columns = {
    time: vector([new Date(1500), null, new Date(3500)], new arrow.TimestampMicrosecond()),
    'speed (km/h)': vector([1.5, null, 3], new arrow.Float64()),
    count: vector([1n, 2n, null], new arrow.Int64()),
    word: vector(['x', 'x', null], new arrow.Dictionary(new arrow.Utf8(), new arrow.Int32())),
    lap: vector([61_000, null, 62_000], new arrow.TimeMillisecond()),
    span: vector([1_500_000n, null, 2n], new arrow.DurationMicrosecond()),
    list: vector([[1], [2], [3]], new arrow.List(new arrow.Field('x', new arrow.Float64()))),
  };
  const source = new arrow.Table(columns);
  const expected = [
    { name: 'time', unit: '', writing: 'date', samples: [1.5, _, 3.5], texts: [] },
    { name: 'speed', unit: 'km/h', writing: 'number', samples: [1.5, _, 3], texts: [] },
    { name: 'count', unit: '', writing: 'number', samples: [1, 2, _], texts: [] },
    { name: 'word', unit: '', writing: 'text', samples: [_, _, _], texts: ['x'] },
    { name: 'lap', unit: '', writing: 'clock', samples: [61, _, 62], texts: [] },
    { name: 'span', unit: 's', writing: 'number', samples: [1.5, _, 2e-6], texts: [] },
  ];
  it.each(['file', 'stream'] as const)('is a table: %s, plain and compressed', async (kind) => {
    for (const compression of [null, arrow.CompressionType.ZSTD]) {
      const opened = table(await openTable(arrow.tableToIPC(source, kind, compression)));
      expect(shown(opened)).toEqual(expected);
      expect(opened.findings).toMatchObject([{ kind: 'not-a-plain-column', place: { channel: 'list' } }]);
    }
  });
  it('takes the unit of a field from its metadata', async () => {
    const field = new arrow.Field('p', new arrow.Float64(), true, new Map([['unit', 'kPa']]));
    const batch = new arrow.RecordBatch(
      new arrow.Schema([field]),
      arrow.makeData({
        type: new arrow.Struct([field]),
        length: 1,
        children: [vector([101.3], new arrow.Float64()).data[0]],
      }),
    );
    const opened = table(await openTable(arrow.tableToIPC(new arrow.Table(batch))));
    expect(shown(opened)).toMatchObject([{ name: 'p', unit: 'kPa', samples: [101.3] }]);
  });
  it('is refused when it is cut', async () => {
    const bytes = arrow.tableToIPC(source, 'file');
    expect(await openTable(bytes.subarray(0, 200))).toMatchObject({ ok: false, refusal: { kind: 'damaged-file' } });
  });
  it('is told from a Zstandard archive, which is refused by name', async () => {
    expect(await openTable(zstdCompressSync('a,b\n1,2\n'))).toMatchObject({
      ok: false,
      refusal: { kind: 'not-delimited-text' },
    });
  });
});

describe('exported channels', () => {
  const times = [0, 0.1, 0.30000000000000004];
  const channels = [
    { name: 'speed', unit: 'km/h', times, samples: [1 / 3, Number.NaN, -0] },
    { name: '=HYPERLINK("x")', unit: '-', times, samples: [1e-300, 123456789.123, 5] },
    { name: 'slow', unit: '°C', times: [0.1], samples: [20.5] },
  ];
  it.each(['csv', 'parquet'] as const)('are read back to the last bit: %s', async (format) => {
    const opened = table(await openTable(exportChannels({ channels, format })));
    const name = format === 'csv' ? '\'=HYPERLINK("x")' : '=HYPERLINK("x")';
    expect(opened.columns.map((column) => [column.name, column.unit, ...column.samples])).toEqual([
      ['time', 's', ...times],
      ['speed', 'km/h', 1 / 3, _, -0],
      [name, format === 'csv' ? "'-" : '-', 1e-300, 123456789.123, 5],
      ['slow', '°C', _, 20.5, _],
    ]);
  });
  it('are JSON with missing as null', () => {
    const text = Buffer.from(exportChannels({ channels, format: 'json' })).toString();
    expect(JSON.parse(text).channels[0]).toEqual({ name: 'speed', unit: 'km/h', times, samples: [1 / 3, null, 0] });
  });
  it.each([
    { text: 'plain', cell: 'plain' },
    { text: '=1+1', cell: `"'=1+1"` },
    { text: '+x', cell: `"'+x"` },
    { text: '-x', cell: `"'-x"` },
    { text: '@x', cell: `"'@x"` },
    { text: '\tx', cell: `"'\tx"` },
    { text: '\rx', cell: `"'\rx"` },
    { text: 'a "b", c', cell: '"a ""b"", c"' },
  ])('cannot run as a formula: $text', ({ text, cell }) => {
    expect(textCell(text)).toBe(cell);
  });
  it('of unequal length are a mistake of the caller', () => {
    expect(() =>
      exportChannels({ channels: [{ name: 'a', unit: '', times: [1], samples: [] }], format: 'csv' }),
    ).toThrow('1 times for 0 samples');
  });
});

describe('damaged columnar bytes', () => {
  const parquet = exportChannels({
    channels: [{ name: 'a', unit: 'V', times: [0, 1, 2, 3], samples: [1, 2, 3, 4] }],
    format: 'parquet',
  });
  const stream = arrow.tableToIPC(
    new arrow.Table({ a: arrow.vectorFromArray([1, 2, 3], new arrow.Float64()) }),
    'stream',
  );
  const file = arrow.tableToIPC(new arrow.Table({ a: arrow.vectorFromArray([1, 2, 3], new arrow.Float64()) }), 'file');
  it.each([
    { name: 'Parquet', bytes: parquet },
    { name: 'Arrow stream', bytes: stream },
    { name: 'Arrow file', bytes: file },
  ])('give a refusal or a table, never an error: $name', async ({ bytes }) => {
    let state = 20310502;
    const random = (below: number): number => {
      state = (Math.imul(state, 1664525) + 1013904223) | 0;
      return Math.floor(((state >>> 0) / 4294967296) * below);
    };
    for (let k = 0; k < 60; k++) {
      const hurt = k % 4 === 0 ? bytes.slice(0, random(bytes.length)) : bytes.slice();
      for (let n = 0; n <= k % 3 && hurt.length > 4; n++) hurt[4 + random(hurt.length - 4)] = random(256);
      const outcome = await openTable(hurt, { timeLimit: 1 });
      if (!outcome.ok) continue;
      for (const column of outcome.value.columns) expect(column.samples.length).toBe(outcome.value.rows);
    }
  });
});
