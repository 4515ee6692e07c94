import { answered, type Outcome, type Refusal, refused } from '../../../core/quantities/index.ts';
import type { Dialect } from '../table.ts';
import { BodyReader, LONGEST_LINE } from './body.ts';
import { copied, joined, lineStart } from './bytes.ts';
import { transcoder, utf8Text } from './characters.ts';
import { HEAD_BYTES } from './dialect.ts';
import { type Layout, layoutOf } from './layout.ts';
import { type DelimitedSummary, summarised } from './summary.ts';

/**
 * Rows handed on by a stream. The arrays are reused: copy what must stay.
 * samples, mask: one per kept column, `rows` long. The mask holds cell codes; `applySettled` makes reasons of them
 * once the end of the file has settled the columns.
 */
export interface RowBlock {
  readonly firstRow: number;
  readonly rows: number;
  readonly samples: readonly Float64Array[];
  readonly mask: readonly Uint8Array[];
}

export interface StreamOptions {
  readonly dialect: Dialect;
  readonly file: string;
  /** Names of the columns to keep; all when absent. */
  readonly select?: readonly string[] | undefined;
  /** Called with every full block and with the rest at the end. */
  readonly onBlock: (block: RowBlock) => void;
}

export interface DelimitedStream {
  push(chunk: Uint8Array): void;
  /** Columns, texts and findings of the whole file, after the last block was handed on. */
  end(): Outcome<DelimitedSummary>;
}

/**
 * Reads a delimited text of any length in bounded memory: the head, one unfinished row and one block of rows.
 * The result does not depend on how the bytes are cut into chunks.
 *
 * Refuses at the end: line-too-long.
 */
export function delimitedStream(options: StreamOptions): DelimitedStream {
  const { dialect } = options;
  const toUtf8 = transcoder(dialect.encoding);
  let mark = dialect.byteOrderMark ? (dialect.encoding === 'utf-8' ? 3 : 2) : 0;
  let head: Uint8Array[] = [];
  let headLength = 0;
  let body: BlockReader | undefined;
  const begin = (cut: boolean): BlockReader => {
    const bytes = joined(head, headLength);
    head = [];
    const layout = layoutOf(utf8Text(bytes, 0, Math.min(bytes.length, HEAD_BYTES)), dialect, {
      cut,
      select: options.select,
    });
    const started = blockReader(options, layout);
    started.body.push(bytes.subarray(lineStart(bytes, dialect.firstLine)));
    return started;
  };
  return {
    push(chunk) {
      const skipped = Math.min(mark, chunk.length);
      mark -= skipped;
      const bytes = toUtf8.push(skipped > 0 ? chunk.subarray(skipped) : chunk);
      if (body) {
        body.body.push(bytes);
        return;
      }
      head.push(copied(bytes));
      headLength += bytes.length;
      if (headLength >= HEAD_BYTES) body = begin(true);
    },
    end() {
      body ??= begin(false);
      return body.end();
    },
  };
}

interface BlockReader {
  readonly body: BodyReader;
  end(): Outcome<DelimitedSummary>;
}

/** The rows after the head, in blocks that are used again and again. */
function blockReader(options: StreamOptions, layout: Layout): BlockReader {
  const { dialect, file, onBlock } = options;
  const count = layout.kept.filter((kept) => kept >= 0).length;
  const samples = new Float64Array(count * BLOCK_STRIDE);
  const mask = new Uint8Array(count * BLOCK_STRIDE);
  const columns = Array.from({ length: count }, (_, k) => k * BLOCK_STRIDE);
  let firstRow = 0;
  const flush = (rows: number): void => {
    onBlock({
      firstRow,
      rows,
      samples: columns.map((from) => samples.subarray(from, from + rows)),
      mask: columns.map((from) => mask.subarray(from, from + rows)),
    });
    firstRow += rows;
    mask.fill(0);
  };
  const storage = { samples, mask, stride: BLOCK_STRIDE, from: 0, capacity: BLOCK_ROWS };
  const body = new BodyReader({ dialect, layout, storage, flush, line: dialect.firstLine - 1 });
  return {
    body,
    end() {
      const seen = body.end();
      if (seen.tooLong > 0) return refused(lineTooLong(file, seen.rows.lines + dialect.firstLine, seen.tooLong));
      const summary = summarised({ file, layout, firstLine: dialect.firstLine, ...seen });
      return answered(summary, summary.findings);
    },
  };
}

/** A line without an end within LONGEST_LINE bytes. */
export function lineTooLong(file: string, line: number, bytes: number): Refusal {
  return {
    kind: 'line-too-long',
    message: `invalid line: no line end in ${bytes} bytes, expected at most ${LONGEST_LINE}`,
    place: { file, line },
    numbers: { bytes, limit: LONGEST_LINE },
  };
}

/** Rows of a block: 256 rows of 100 columns stay in a second-level cache. @source our default, not tuned */
const BLOCK_ROWS = 256;
/** 33 cache lines of 64 bytes: an odd number. */
const BLOCK_STRIDE = 264;
