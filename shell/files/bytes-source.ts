import { type FileHandle, open } from 'node:fs/promises';
import { type Outcome, type Refusal, refused } from '../../core/quantities/index.ts';

/** Called now and then with the share that is done, 0…1. */
export type Progress = (share: number) => void;

/** What a long read reports to and is stopped by. */
export interface Watch {
  readonly progress?: Progress | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** Opens a file for the length of one question and closes it again; a file that is not there or not readable is a refusal. */
export async function withFile<Value>(
  path: string,
  question: (handle: FileHandle, size: number) => Promise<Outcome<Value>>,
): Promise<Outcome<Value>> {
  let handle: FileHandle;
  try {
    handle = await open(path, 'r');
  } catch (error) {
    return refused(unreadableFile(path, error));
  }
  try {
    const stat = await handle.stat();
    if (!stat.isFile())
      return refused({ kind: 'not-a-file', message: `invalid path: ${path}, expected a file`, place: { file: path } });
    return await question(handle, stat.size);
  } finally {
    await handle.close();
  }
}

/** First bytes of an open file. */
export async function headOf(handle: FileHandle, length: number): Promise<Uint8Array> {
  const buffer = new Uint8Array(length);
  let filled = 0;
  while (filled < length) {
    const { bytesRead } = await handle.read(buffer, filled, length - filled, filled);
    if (bytesRead === 0) break;
    filled += bytesRead;
  }
  return buffer.subarray(0, filled);
}

/**
 * Hands a file on in chunks that are used again; between them the event loop runs, so progress shows and cancel works.
 * Returns a refusal when it was cancelled.
 */
export async function eachChunk(
  handle: FileHandle,
  size: number,
  take: Watch & { readonly chunk: (bytes: Uint8Array) => void },
): Promise<Refusal | undefined> {
  const buffer = new Uint8Array(CHUNK_BYTES);
  for (let at = 0; ; ) {
    if (take.signal?.aborted) return cancelled(at / Math.max(1, size));
    const { bytesRead } = await handle.read(buffer, 0, buffer.length, at);
    if (bytesRead === 0) return undefined;
    take.chunk(buffer.subarray(0, bytesRead));
    at += bytesRead;
    take.progress?.(Math.min(1, at / Math.max(1, size)));
  }
}

/** The person or the caller stopped it. */
export function cancelled(share: number): Refusal {
  return { kind: 'cancelled', message: `cancelled after ${Math.round(100 * share)} %`, numbers: { share } };
}

function unreadableFile(path: string, error: unknown): Refusal {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
  const isMissing = code === 'ENOENT';
  return {
    kind: isMissing ? 'missing-file' : 'unreadable-file',
    message: isMissing ? `missing file: ${path}` : `unreadable file: ${path} (${code})`,
    place: { file: path },
    numbers: { code },
  };
}

/** Bytes of one chunk: large enough for the disk, small enough for progress. @source our default */
const CHUNK_BYTES = 1 << 20;
