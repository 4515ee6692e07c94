import { closeSync, openSync, readSync } from 'node:fs';
import { BodyReader, type BodySeen, type Dialect, type Layout } from '../../day/channels/index.ts';

/** A stretch of a file that begins and ends at line breaks. */
export interface Segment {
  readonly path: string;
  readonly from: number;
  readonly to: number;
}

/** A segment with the place in the common storage where its rows go. */
export interface SegmentTask extends Segment {
  readonly dialect: Dialect;
  readonly layout: Layout;
  readonly samples: SharedArrayBuffer;
  readonly mask: SharedArrayBuffer;
  readonly stride: number;
  readonly firstRow: number;
  readonly capacity: number;
  /** First element: not zero when the reading shall stop. Second: chunks read so far, of all segments. */
  readonly signals: SharedArrayBuffer;
}

/** Line ends in a segment, the most rows it can have; one more for a last line without its end. */
export function lineCount(segment: Segment): number {
  let count = 1;
  eachPart(segment, (bytes) => {
    for (let at = bytes.indexOf(LF); at >= 0; at = bytes.indexOf(LF, at + 1)) count++;
    return true;
  });
  return count;
}

/** Reads the rows of a segment into the storage. `undefined` when the file changed under the reader or it was stopped. */
export function readSegment(task: SegmentTask): BodySeen | undefined {
  const { stride, firstRow, capacity, dialect, layout } = task;
  const signals = new Int32Array(task.signals);
  let flushes = 0;
  const body = new BodyReader({
    dialect,
    layout,
    storage: {
      samples: new Float64Array(task.samples),
      mask: new Uint8Array(task.mask),
      stride,
      from: firstRow,
      capacity: firstRow + capacity,
    },
    flush: () => {
      flushes++;
    },
    line: dialect.firstLine - 1,
  });
  eachPart(task, (bytes) => {
    body.push(bytes);
    Atomics.add(signals, 1, 1);
    return Atomics.load(signals, 0) === 0;
  });
  const seen = body.end();
  return flushes > 1 || Atomics.load(signals, 0) !== 0 ? undefined : seen;
}

function eachPart(segment: Segment, take: (bytes: Buffer) => boolean): void {
  const file = openSync(segment.path, 'r');
  try {
    const buffer = Buffer.allocUnsafe(PART_BYTES);
    for (let at = segment.from; at < segment.to; ) {
      const length = readSync(file, buffer, 0, Math.min(PART_BYTES, segment.to - at), at);
      if (length === 0) return;
      at += length;
      if (!take(buffer.subarray(0, length))) return;
    }
  } finally {
    closeSync(file);
  }
}

const LF = 10;

/** Bytes read at once by a worker: they stay in the last-level cache. @source our default, not tuned */
export const PART_BYTES = 1 << 20;
