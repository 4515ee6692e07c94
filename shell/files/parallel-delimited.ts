import type { FileHandle } from 'node:fs/promises';
import { answered, type Outcome, refused } from '../../core/quantities/index.ts';
import {
  addColumnTally,
  addRowTally,
  type BodySeen,
  type Column,
  type DelimitedSummary,
  type Dialect,
  emptyColumnTally,
  emptyRowTally,
  type Layout,
  layoutOf,
  lineStart,
  settledColumn,
  summarised,
  utf8Text,
} from '../../day/channels/index.ts';
import { cancelled, type Watch } from './bytes-source.ts';
import { PART_BYTES, type Segment } from './segment.ts';
import { segmentPool, threadCount } from './segment-pool.ts';

export interface ParallelInput extends Watch {
  readonly path: string;
  readonly handle: FileHandle;
  readonly size: number;
  readonly head: Uint8Array;
  readonly dialect: Dialect;
  readonly file: string;
  readonly select?: readonly string[] | undefined;
}

export interface ColumnsRead {
  readonly summary: DelimitedSummary;
  readonly columns: readonly Column[];
}

/**
 * Reads a large delimited file with several threads, each its own stretch between two line breaks, into shared columns.
 * `undefined` where the file does not allow it (quotes, wide characters, lone carriage returns, or it changed meanwhile):
 * then it must be read from front to back.
 */
export async function readParallel(input: ParallelInput): Promise<Outcome<ColumnsRead> | undefined> {
  const { dialect, head, file } = input;
  if (!isSplittable(dialect, head)) return undefined;
  const skip = dialect.byteOrderMark ? 3 : 0;
  const layout = layoutOf(utf8Text(head, skip), dialect, { cut: input.size > head.length, select: input.select });
  const start = skip + lineStart(head.subarray(skip), dialect.firstLine);
  const segments = await segmentsOf(input, start);
  const lines = await Promise.all(segments.map((segment, k) => segmentPool.count(k, segment)));
  const room = roomFor(layout, lines);
  const stop = watched(input, room.signals);
  const read = segments.map((segment, k) => {
    const firstRow = lines.slice(0, k).reduce((sum, n) => sum + n, 0);
    return segmentPool.read(k, { ...segment, ...room, dialect, layout, firstRow, capacity: lines[k] ?? 0 });
  });
  const seen = await Promise.all(read);
  stop();
  if (input.signal?.aborted) return refused(cancelled(progressOf(room.signals, input.size)));
  const whole = seen.filter((part) => part !== undefined);
  const isSound =
    whole.length === seen.length &&
    whole.every((part) => !part.rows.quoted && part.rows.openQuote.count === 0 && part.tooLong === 0);
  if (!isSound) return undefined;
  const { samples, mask } = closedRanks(room, layout, { lines, parts: whole });
  const summary = summarised({ file, layout, firstLine: dialect.firstLine, ...added(layout, whole) });
  const columns = summary.columns.map((column, k) => settledColumn(column, columnOf(samples, k), columnOf(mask, k)));
  return answered({ summary, columns }, summary.findings);

  function columnOf<Kind>(arrays: readonly Kind[], k: number): Kind {
    const array = arrays[k];
    if (array === undefined) throw new Error(`no storage for column ${k}`);
    return array;
  }
}

function isSplittable(dialect: Dialect, head: Uint8Array): boolean {
  return dialect.encoding === 'utf-8' && dialect.quote === '' && head.includes(10);
}

async function segmentsOf(input: ParallelInput, start: number): Promise<readonly Segment[]> {
  const { path, size, handle } = input;
  const count = Math.max(1, Math.min(threadCount(), Math.floor((size - start) / LEAST_SEGMENT)));
  const bounds = [start];
  for (let k = 1; k < count; k++) {
    const at = await behindLineEnd(handle, start + Math.floor(((size - start) * k) / count));
    if (at > (bounds.at(-1) ?? 0) && at < size) bounds.push(at);
  }
  return bounds.map((from, k) => ({ path, from, to: bounds[k + 1] ?? size }));
}

async function behindLineEnd(handle: FileHandle, from: number): Promise<number> {
  const buffer = Buffer.alloc(1 << 16);
  for (let at = from; ; ) {
    const { bytesRead } = await handle.read(buffer, 0, buffer.length, at);
    if (bytesRead === 0) return at;
    const found = buffer.subarray(0, bytesRead).indexOf(10);
    if (found >= 0) return at + found + 1;
    at += bytesRead;
  }
}

interface Room {
  readonly samples: SharedArrayBuffer;
  readonly mask: SharedArrayBuffer;
  readonly signals: SharedArrayBuffer;
  readonly stride: number;
}

function roomFor(layout: Layout, lines: readonly number[]): Room {
  const rows = lines.reduce((sum, n) => sum + n, 0);
  // An odd number of 64-byte cache lines from column to column, for samples and for the mask.
  const stride = 64 * (2 * Math.ceil(rows / 128) + 1) + 8;
  const columns = layout.kept.filter((kept) => kept >= 0).length;
  return {
    samples: new SharedArrayBuffer(8 * stride * columns),
    mask: new SharedArrayBuffer(stride * columns),
    signals: new SharedArrayBuffer(8),
    stride,
  };
}

/** Moves the rows of later segments up to where the earlier ones really ended. */
function closedRanks(
  room: Room,
  layout: Layout,
  read: { lines: readonly number[]; parts: readonly BodySeen[] },
): { samples: readonly Float64Array[]; mask: readonly Uint8Array[] } {
  const columns = layout.kept.filter((kept) => kept >= 0).length;
  const samples: Float64Array[] = [];
  const mask: Uint8Array[] = [];
  for (let k = 0; k < columns; k++) {
    const values = new Float64Array(room.samples, 8 * k * room.stride, room.stride);
    const codes = new Uint8Array(room.mask, k * room.stride, room.stride);
    let planned = 0;
    let rows = 0;
    read.parts.forEach((part, n) => {
      if (planned !== rows) {
        values.copyWithin(rows, planned, planned + part.rows.rows);
        codes.copyWithin(rows, planned, planned + part.rows.rows);
      }
      rows += part.rows.rows;
      planned += read.lines[n] ?? 0;
    });
    samples.push(values.subarray(0, rows));
    mask.push(codes.subarray(0, rows));
  }
  return { samples, mask };
}

function added(layout: Layout, parts: readonly BodySeen[]) {
  const columns = layout.kept.map(emptyColumnTally);
  const rows = emptyRowTally();
  for (const part of parts) {
    part.columns.forEach((tally, k) => {
      const into = columns[k];
      if (into) addColumnTally(into, tally, rows.lines);
    });
    addRowTally(rows, part.rows);
  }
  return { columns, rows, lastLine: parts.at(-1)?.lastLine ?? 'ended' } as const;
}

/** Passes a cancel on to the threads and their progress back. */
function watched(input: ParallelInput, buffer: SharedArrayBuffer): () => void {
  const signals = new Int32Array(buffer);
  const halt = (): void => {
    Atomics.store(signals, 0, 1);
  };
  if (input.signal?.aborted) halt();
  input.signal?.addEventListener('abort', halt);
  const timer = setInterval(() => input.progress?.(progressOf(buffer, input.size)), 100);
  return () => {
    clearInterval(timer);
    input.signal?.removeEventListener('abort', halt);
  };
}

function progressOf(buffer: SharedArrayBuffer, size: number): number {
  return Math.min(1, (Atomics.load(new Int32Array(buffer), 1) * PART_BYTES) / size);
}

/** Bytes that are worth a thread of their own. @source our default, not tuned */
const LEAST_SEGMENT = 4 << 20;
