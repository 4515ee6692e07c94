import { createHash } from 'node:crypto';
import type { FileHandle } from 'node:fs/promises';
import { basename } from 'node:path';
import { answered, type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';
import { type Dialect, isWave, readDelimited, type Table } from '../../day/channels/index.ts';
import { cancelled, eachChunk, headOf, type Watch, withFile } from './bytes-source.ts';
import { readColumnar } from './columnar-file.ts';
import { readDelimitedFile } from './delimited-file.ts';
import { sha256Hex } from './sha256.ts';

export interface OpenOptions extends Watch {
  /** Name for the messages; the last part of the path when absent. */
  readonly file?: string | undefined;
  /** Names of the columns to keep (as in the table, without unit); all when absent. */
  readonly select?: readonly string[] | undefined;
  /** What a person decided about a delimited text; the rest is detected. */
  readonly dialect?: Partial<Dialect> | undefined;
  /** Longest time for a Parquet or Arrow file [s]; default 20 s and one more per 5 MB. */
  readonly timeLimit?: number | undefined;
}

/**
 * A log file as a raw table, whatever open format it is in: told apart by its first bytes, never by its name.
 *
 * Refuses: missing-file, unreadable-file, not-a-file, cancelled, damaged-file, unsupported-compression, sound-file and what `readDelimited` refuses.
 */
export async function openTable(from: string | Uint8Array, options: OpenOptions = {}): Promise<Outcome<Table>> {
  if (typeof from === 'string') {
    const file = options.file ?? basename(from);
    return withFile(from, (handle, size) => fromFile({ handle, size, path: from, file }, options));
  }
  if (options.signal?.aborted) return refused(cancelled(0));
  const named = { ...options, file: options.file ?? 'bytes', source: sha256Hex(from) };
  const format = formatOf(from);
  if (format === 'sound') return refused(noTable(named.file));
  if (format === 'delimited') return readDelimited({ ...delimitedOptions(named), bytes: from });
  const { file, source, select } = named;
  return readColumnar({ format, from, file, source, select }, { ...options, size: from.length });
}

/** SHA-256 of a whole file, hex, in bounded memory. */
export async function fileSha256(path: string, watch: Watch = {}): Promise<Outcome<string>> {
  return withFile(path, (handle, size) => handleSha256(handle, size, watch));
}

interface OpenFile {
  readonly handle: FileHandle;
  readonly size: number;
  readonly path: string;
  readonly file: string;
}

async function fromFile(open: OpenFile, options: OpenOptions): Promise<Outcome<Table>> {
  const { handle, size, path, file } = open;
  const format = formatOf(await headOf(handle, 16));
  if (format === 'sound') return refused(noTable(file));
  // The hash and the threads that parse share the page cache, so the file is read from the disk once.
  const hashing = handleSha256(handle, size, { signal: options.signal });
  const table = await readFormat(format, open, { ...options, path, file, source: '' });
  const hash = await hashing;
  if (!hash.ok) return hash;
  return table.ok ? answered({ ...table.value, source: hash.value }, table.findings) : table;
}

async function readFormat(
  format: Exclude<FileKind, 'sound'>,
  { handle, size }: OpenFile,
  options: OpenOptions & { readonly path: string; readonly file: string; readonly source: string },
): Promise<Outcome<Table>> {
  if (format === 'delimited') return readDelimitedFile(handle, size, options);
  const { path, file, source, select } = options;
  return readColumnar({ format, from: path, file, source, select }, { ...options, size });
}

async function handleSha256(handle: FileHandle, size: number, watch: Watch): Promise<Outcome<string>> {
  const hash = createHash('sha256');
  const stopped = await eachChunk(handle, size, { ...watch, chunk: (bytes) => hash.update(bytes) });
  return stopped ? refused(stopped) : answered(hash.digest('hex'));
}

type FileKind = 'parquet' | 'arrow' | 'sound' | 'delimited';

/** @source Parquet format page (magic PAR1); Arrow columnar format, IPC file (ARROW1) and stream (continuation marker) */
function formatOf(head: Uint8Array): FileKind {
  if (isWave(head)) return 'sound';
  const text = Buffer.from(head.subarray(0, 6)).toString('latin1');
  if (text.startsWith('PAR1')) return 'parquet';
  if (text === 'ARROW1' || (head.length > 8 && text.startsWith('\xff\xff\xff\xff'))) return 'arrow';
  return 'delimited';
}

/** A sound has no columns: `openSound` reads it. */
function noTable(file: string): Refusal {
  return { kind: 'sound-file', message: `invalid table: ${file} is a recording of sound (WAV)`, place: { file } };
}

function delimitedOptions(options: OpenOptions & { readonly file: string; readonly source: string }) {
  const { file, source, select, dialect } = options;
  return { file, source, select, ...(dialect ? { dialect } : {}) };
}
