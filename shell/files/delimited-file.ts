import type { FileHandle } from 'node:fs/promises';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import { type Dialect, detectDialect, HEAD_BYTES, readDelimited, type Table } from '../../day/channels/index.ts';
import { eachChunk, headOf, type Watch } from './bytes-source.ts';
import { readParallel } from './parallel-delimited.ts';

export interface DelimitedFileOptions extends Watch {
  readonly path: string;
  /** Name for the messages. */
  readonly file: string;
  /** SHA-256 of the bytes, hex. */
  readonly source: string;
  readonly dialect?: Partial<Dialect> | undefined;
  readonly select?: readonly string[] | undefined;
}

/** A delimited file as a table; large ones by several threads. */
export async function readDelimitedFile(
  handle: FileHandle,
  size: number,
  options: DelimitedFileOptions,
): Promise<Outcome<Table>> {
  const { file, source, select } = options;
  if (size >= PARALLEL_BYTES) {
    const head = await headOf(handle, HEAD_BYTES);
    const found = detectDialect(head, { ...options.dialect, file });
    if (!found.ok) return found;
    const { dialect, evidence } = found.value;
    const read = await readParallel({ ...options, handle, size, head, dialect });
    if (read && !read.ok) return read;
    if (read?.ok) {
      const { summary, columns } = read.value;
      const needsSecondLook =
        evidence.decimalCertainty === 'none' && summary.columns.some(({ tally }) => tally.otherDecimal > 0);
      const findings = [...found.findings, ...read.findings];
      const { rows, preamble } = summary;
      if (!needsSecondLook) {
        return answered(
          { source, file, format: { kind: 'delimited', dialect }, columns, rows, preamble, findings },
          findings,
        );
      }
    }
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  const stopped = await eachChunk(handle, size, {
    ...options,
    chunk(part) {
      bytes.set(part.subarray(0, size - at), at);
      at += Math.min(part.length, size - at);
    },
  });
  if (stopped) return refused(stopped);
  return readDelimited({
    bytes: bytes.subarray(0, at),
    file,
    source,
    select,
    ...(options.dialect ? { dialect: options.dialect } : {}),
  });
}

/** Files from this size on are read by several threads. @source our default, not tuned */
const PARALLEL_BYTES = 12 << 20;
