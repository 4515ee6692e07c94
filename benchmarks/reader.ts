import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { DuckDBInstance } from '@duckdb/node-api';
import { withFile } from '../shell/files/bytes-source.ts';
import { readDelimitedFile } from '../shell/files/delimited-file.ts';
import { openTable, scanFile } from '../shell/files/index.ts';

/** One way to read the file: least and most time of its runs, rate at the least, memory afterwards, sum over all cells. */
export interface ReaderFigure {
  readonly way: string;
  readonly seconds: number;
  readonly slowest: number;
  readonly megabytesPerSecond: number;
  readonly residentMegabytes: number;
}

export interface ReaderBenchmark {
  readonly machine: string;
  readonly megabytes: number;
  readonly rows: number;
  readonly columns: number;
  readonly figures: readonly ReaderFigure[];
  /** Time of DuckDB to columns in memory over ours: above 1 ours is faster. */
  readonly overDuckdb: number;
  readonly overDuckdbTable: number;
  /** Largest relative difference of a column's sum between ours and DuckDB's. */
  readonly largestDifference: number;
}

/**
 * Reads one generated file of 100 columns in several ways, interleaved, and compares the column sums.
 *
 * @param megabytes size of the file [MB], default 200
 */
export async function readerBenchmark(options: { megabytes?: number; runs?: number } = {}): Promise<ReaderBenchmark> {
  const { megabytes = 200, runs = 4 } = options;
  const folder = mkdtempSync(join(tmpdir(), 'knurl-bench-'));
  try {
    const path = join(folder, 'log.csv');
    const made = writeLog(path, megabytes);
    const sums = { ours: new Float64Array(COLUMNS), duckdb: new Float64Array(COLUMNS) };
    const ways: readonly Way[] = [
      { way: 'every byte looked at once, one thread', run: async () => byteScan(path) },
      { way: 'ours to typed columns', run: () => ours(path, sums.ours) },
      { way: 'ours, SHA-256 of the file too', run: () => oursWithHash(path) },
      { way: 'DuckDB to typed columns in JavaScript', run: () => duckdbColumns(path, sums.duckdb) },
      { way: 'DuckDB to its own table', run: () => duckdbTable(path) },
    ];
    const figures = await measured(ways, { runs, megabytes: made.bytes / 1e6 });
    const seconds = (k: number): number => figures[k]?.seconds ?? Number.NaN;
    return {
      machine: `${availableParallelism()} × ${cpus()[0]?.model ?? 'processor'}, Node ${process.version}`,
      megabytes: made.bytes / 1e6,
      rows: made.rows,
      columns: COLUMNS,
      figures,
      overDuckdb: seconds(3) / seconds(1),
      overDuckdbTable: seconds(4) / seconds(1),
      largestDifference: largestDifference(sums.ours, sums.duckdb),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** One pass over a generated file in bounded memory [MB] and the highest resident memory of the process [MB]. */
export async function streamBenchmark(megabytes: number) {
  const folder = mkdtempSync(join(tmpdir(), 'knurl-bench-'));
  try {
    const path = join(folder, 'log.csv');
    const made = writeLog(path, megabytes);
    const before = process.memoryUsage().rss / 1e6;
    const start = performance.now();
    const scan = await scanFile(path);
    const seconds = (performance.now() - start) / 1000;
    if (!scan.ok || scan.value.rows !== made.rows) throw new Error('scan and file disagree');
    // maxRSS is in kilobytes.
    const peak = process.resourceUsage().maxRSS / 1e3;
    return { megabytes: made.bytes / 1e6, seconds, megabytesPerSecond: made.bytes / 1e6 / seconds, before, peak };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

interface Way {
  readonly way: string;
  readonly run: () => Promise<number>;
}

/** Every way once per round, so that a busy moment of the machine hits all of them. */
async function measured(
  ways: readonly Way[],
  options: { runs: number; megabytes: number },
): Promise<readonly ReaderFigure[]> {
  const times = ways.map((): number[] => []);
  const memory = ways.map(() => 0);
  for (let round = 0; round < options.runs; round++) {
    for (const [k, { run }] of ways.entries()) {
      globalThis.gc?.();
      times[k]?.push(await run());
      memory[k] = Math.max(memory[k] ?? 0, process.memoryUsage().rss / 1e6);
    }
  }
  return ways.map(({ way }, k) => {
    const seconds = Math.min(...(times[k] ?? []));
    const slowest = Math.max(...(times[k] ?? []));
    return {
      way,
      seconds,
      slowest,
      megabytesPerSecond: options.megabytes / seconds,
      residentMegabytes: memory[k] ?? 0,
    };
  });
}

async function timed(work: () => Promise<void> | void): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
}

function byteScan(path: string): Promise<number> {
  return timed(() => {
    const bytes = readFileSync(path);
    let delimiters = 0;
    for (let i = 0; i < bytes.length; i++) if (bytes[i] === 44) delimiters++;
    if (delimiters === 0) throw new Error('no delimiter seen');
  });
}

async function ours(path: string, sums: Float64Array): Promise<number> {
  let columns: readonly { readonly samples: Float64Array }[] = [];
  const seconds = await timed(async () => {
    const read = await withFile(path, (handle, size) =>
      readDelimitedFile(handle, size, { path, file: 'log.csv', source: '' }),
    );
    if (!read.ok) throw new Error(read.refusal.message);
    columns = read.value.columns;
  });
  columns.forEach(({ samples }, k) => {
    sums[k] = sumOf(samples);
  });
  return seconds;
}

function oursWithHash(path: string): Promise<number> {
  return timed(async () => {
    const read = await openTable(path);
    if (!read.ok) throw new Error(read.refusal.message);
  });
}

async function duckdbColumns(path: string, sums: Float64Array): Promise<number> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  let columns: Float64Array[] = [];
  const seconds = await timed(async () => {
    // Measured against its streaming result, which was slower.
    const result = await connection.run(`select * from ${duckdbSource(path)}`);
    const chunks = (await result.fetchAllChunks()).map((chunk) =>
      Array.from({ length: COLUMNS }, (_, k) => doublesOf(chunk.getColumnVector(k))),
    );
    const rows = chunks.reduce((sum, chunk) => sum + (chunk[0]?.length ?? 0), 0);
    columns = Array.from({ length: COLUMNS }, (_, k) => {
      const all = new Float64Array(rows);
      let at = 0;
      for (const chunk of chunks) {
        const part = chunk[k] ?? new Float64Array(0);
        all.set(part, at);
        at += part.length;
      }
      return all;
    });
  });
  columns.forEach((samples, k) => {
    sums[k] = sumOf(samples);
  });
  connection.closeSync();
  instance.closeSync();
  return seconds;
}

/** The vector's own typed array, without a value object per cell: the fastest road out that the client has. */
function doublesOf(vector: object): Float64Array {
  const items: unknown = 'items' in vector ? vector.items : undefined;
  if (!(items instanceof Float64Array)) throw new Error('the vector is not of doubles');
  return items;
}

async function duckdbTable(path: string): Promise<number> {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  const seconds = await timed(async () => {
    await connection.run(`create table log as select * from ${duckdbSource(path)}`);
  });
  connection.closeSync();
  instance.closeSync();
  return seconds;
}

/** Every option given: nothing is left to its sniffer. */
function duckdbSource(path: string): string {
  const types = Array.from({ length: COLUMNS }, (_, k) => `'channel ${k}': 'DOUBLE'`).join(', ');
  return `read_csv('${path}', auto_detect=false, delim=',', quote='', escape='', header=true, skip=0, decimal_separator='.', new_line='\\n', parallel=true, columns={${types}})`;
}

function sumOf(samples: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < samples.length; k++) sum += samples[k] ?? 0;
  return sum;
}

function largestDifference(a: Float64Array, b: Float64Array): number {
  return a.reduce(
    (largest, value, k) => Math.max(largest, Math.abs(value - (b[k] ?? 0)) / Math.max(1, Math.abs(value))),
    0,
  );
}

/** A log of slow random walks, numbers with zero to three decimals, one row per 10 ms. The same file every time. */
function writeLog(path: string, megabytes: number): { bytes: number; rows: number } {
  const random = seeded(20310502);
  const state = Float64Array.from({ length: COLUMNS }, () => 3000 * random());
  const file = openSync(path, 'w');
  let bytes = writeSync(file, `${Array.from({ length: COLUMNS }, (_, k) => `channel ${k}`).join(',')}\n`);
  let rows = 0;
  while (bytes < megabytes * 1e6) {
    const lines: string[] = [];
    for (let r = 0; r < 500; r++, rows++) {
      const cells = [(rows * 0.01).toFixed(2)];
      for (let k = 1; k < COLUMNS; k++) {
        state[k] = (state[k] ?? 0) + 5 * (random() - 0.5);
        cells.push((state[k] ?? 0).toFixed(k % 4));
      }
      lines.push(cells.join(','));
    }
    bytes += writeSync(file, `${lines.join('\n')}\n`);
  }
  closeSync(file);
  return { bytes, rows };
}

/** @source Numerical Recipes, quick linear congruential constants */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return (state >>> 0) / 4294967296;
  };
}

const COLUMNS = 100;

function argument(name: string): number | undefined {
  const at = process.argv.indexOf(name);
  return at < 0 ? undefined : Number(process.argv[at + 1]);
}

async function main(): Promise<void> {
  const streamed = argument('--stream');
  if (streamed !== undefined) {
    const { megabytes, seconds, megabytesPerSecond, before, peak } = await streamBenchmark(streamed);
    console.log(`scan of ${megabytes.toFixed(0)} MB: ${seconds.toFixed(2)} s, ${megabytesPerSecond.toFixed(0)} MB/s`);
    console.log(
      `resident memory: ${before.toFixed(0)} MB before, ${peak.toFixed(0)} MB at the highest (file generator included)`,
    );
    return;
  }
  const result = await readerBenchmark({ megabytes: argument('--mb') ?? 200, runs: argument('--runs') ?? 4 });
  console.log(`${result.megabytes.toFixed(0)} MB, ${result.rows} rows × ${result.columns} columns; ${result.machine}`);
  for (const { way, seconds, slowest, megabytesPerSecond, residentMegabytes } of result.figures) {
    const time = `${seconds.toFixed(2)} s (slowest ${slowest.toFixed(2)})`;
    console.log(
      `${way.padEnd(40)} ${time.padEnd(24)} ${megabytesPerSecond.toFixed(0).padStart(5)} MB/s  ${residentMegabytes.toFixed(0).padStart(5)} MB resident`,
    );
  }
  console.log(
    `DuckDB to columns takes ${result.overDuckdb.toFixed(2)} × our time, to its own table ${result.overDuckdbTable.toFixed(2)} ×`,
  );
  console.log(`column sums differ by at most ${result.largestDifference.toExponential(1)} (relative)`);
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) await main();
