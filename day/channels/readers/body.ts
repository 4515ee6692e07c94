import { copied, firstLineEnd, isLineEnd, joined, lastLineEnd } from './bytes.ts';
import { type RowOptions, RowReader } from './rows.ts';
import { type ColumnTally, noteSeen, type RowTally } from './tally.ts';

/** What a body reader has seen once the last byte is in. */
export interface BodySeen {
  readonly columns: readonly ColumnTally[];
  readonly rows: RowTally;
  readonly lastLine: 'ended' | 'kept' | 'dropped';
  /** Bytes of a line that was given up as too long; 0 when there was none. */
  readonly tooLong: number;
}

/** Reads the lines of values from chunks of UTF-8; holds one unfinished row between them. */
export class BodyReader {
  private readonly options: RowOptions;
  private readonly reader: RowReader;
  private carry: Uint8Array = new Uint8Array(0);
  private tooLong = 0;

  constructor(options: RowOptions) {
    this.options = options;
    this.reader = new RowReader(options);
  }

  /** The chunk may be used again afterwards. */
  push(chunk: Uint8Array): void {
    if (this.tooLong > 0) return;
    let at = 0;
    while (this.carry.length > 0 && at < chunk.length) {
      const end = firstLineEnd(chunk, at);
      this.carry = joined([this.carry, chunk.subarray(at, end)], this.carry.length + end - at);
      at = end;
      if (isLineEnd(this.carry[this.carry.length - 1])) {
        this.carry = this.carry.subarray(this.reader.read(this.carry, 0, this.carry.length));
      }
    }
    if (at < chunk.length) {
      const last = lastLineEnd(chunk, at);
      const used = last > at ? this.reader.read(chunk, at, last) : at;
      this.carry = copied(chunk.subarray(used));
    }
    if (this.carry.length > LONGEST_LINE) {
      this.tooLong = this.carry.length;
      this.carry = new Uint8Array(0);
    }
  }

  end(): BodySeen {
    const { reader } = this;
    const padded = this.carry.length;
    let length = padded;
    while (length > 0 && this.carry[length - 1] === 0) length--;
    const rest = joined([this.carry.subarray(0, length), LINE_END], length + 1);
    const lastEnd = lastLineEnd(rest.subarray(0, length), 0);
    reader.final = true;
    reader.read(rest, 0, lastEnd);
    reader.cutLine = true;
    const isCut = length > lastEnd;
    if (isCut) reader.read(rest, lastEnd, length + 1);
    if (padded > length) noteSeen(reader.tally.nul, this.options.line + reader.tally.lines + 1);
    reader.flush();
    const lastLine = !isCut ? 'ended' : reader.droppedLast ? 'dropped' : 'kept';
    return { columns: reader.columns, rows: reader.tally, lastLine, tooLong: this.tooLong };
  }
}

const LINE_END = Uint8Array.of(10);

/** A row longer than this [bytes] is no row. @source our default */
export const LONGEST_LINE = 16 << 20;
