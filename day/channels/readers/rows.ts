import type { Dialect } from '../table.ts';
import { CELL, type CellRead, cellRead } from './cell.ts';
import { utf8Text } from './characters.ts';
import type { Layout } from './layout.ts';
import { EXACT_POWERS, plainNumber } from './number.ts';
import { type ColumnTally, emptyColumnTally, emptyRowTally, noteSeen, type RowTally, tallyCell } from './tally.ts';
import { isMissingWord } from './words.ts';

/**
 * Where the rows go: columns one after the other in one array, `stride` apart.
 * An odd number of cache lines between the columns keeps them from falling on the same cache set.
 */
export interface Storage {
  readonly samples: Float64Array;
  /** All zero at first. Holds cell codes until the column is settled. */
  readonly mask: Uint8Array;
  readonly stride: number;
  /** First row to fill, and the row before which the storage must be handed on. */
  readonly from: number;
  readonly capacity: number;
}

export interface RowOptions {
  readonly dialect: Pick<Dialect, 'delimiter' | 'decimal' | 'thousands'>;
  readonly layout: Layout;
  readonly storage: Storage;
  /** Called with the number of rows in the storage, which is filled anew afterwards. */
  readonly flush: (rows: number) => void;
  /** Line ends before the first byte. */
  readonly line: number;
}

/** A cell that is no plain number, waiting for its row to be accepted. */
interface Pending {
  readonly column: number;
  readonly read: CellRead;
  readonly text: string;
}

/** Reads rows from UTF-8 bytes into typed columns. Holds the state between chunks, nothing else. */
export class RowReader {
  readonly columns: ColumnTally[];
  readonly tally: RowTally = emptyRowTally();
  /** No more bytes will come: an open quote will not close. */
  final = false;
  /** The line now read had no line end: a short row is then a cut row. */
  cutLine = false;
  droppedLast = false;

  private readonly options: RowOptions;
  private readonly slots: Int32Array;
  private readonly delimiter: number;
  private readonly decimal: number;
  private readonly dirty: Uint8Array;
  private pending: Pending[] = [];
  private row: number;
  private innerLines = 0;
  private afterReturn = false;

  constructor(options: RowOptions) {
    const { layout, storage, dialect } = options;
    this.options = options;
    this.delimiter = dialect.delimiter.charCodeAt(0);
    this.decimal = dialect.decimal.charCodeAt(0);
    this.slots = Int32Array.from(layout.kept, (kept) => (kept < 0 ? -1 : kept * storage.stride));
    this.columns = layout.kept.map(emptyColumnTally);
    this.dirty = new Uint8Array(layout.kept.length);
    this.row = storage.from;
  }

  /**
   * Reads the complete rows in bytes [from, to), where bytes[to − 1] is a line end.
   * Returns the index of the first byte that was not used: `to`, or the start of a row whose quoted cell is still open.
   */
  // Longer than the house allows: the hot loop, kept free of calls for speed.
  read(bytes: Uint8Array, from: number, to: number): number {
    const { slots, delimiter, decimal } = this;
    const { samples, capacity } = this.options.storage;
    const lastColumn = slots.length - 1;
    let i = this.afterReturn && from < to && bytes[from] === LF ? from + 1 : from;
    if (from < to) this.afterReturn = false;
    while (i < to) {
      const rowStart = i;
      let c = bytes[i];
      if (c === LF || c === CR || c === 0 || (c === HASH && this.isComment(bytes, i))) {
        i = this.passLine(bytes, i, to);
        continue;
      }
      let column = 0;
      const row = this.row;
      for (;;) {
        const slot = slots[column];
        const cellStart = i;
        c = bytes[i];
        while (c === SPACE) c = bytes[++i];
        if (slot < 0 && c !== QUOTE) {
          while (c !== delimiter && c !== LF && c !== CR) c = bytes[++i];
        } else {
          const negative = c === MINUS;
          if (negative) c = bytes[++i];
          const first = i;
          let m = 0;
          let d = c - ZERO;
          while (d >>> 0 < 10) {
            m = (Math.imul(m, 10) + d) | 0;
            d = bytes[++i] - ZERO;
          }
          let digits = i - first;
          let value = m;
          if (d + ZERO === decimal) {
            const mark = ++i;
            d = bytes[i] - ZERO;
            while (d >>> 0 < 10) {
              m = (Math.imul(m, 10) + d) | 0;
              d = bytes[++i] - ZERO;
            }
            value = m / EXACT_POWERS[Math.min(22, i - mark)];
            digits += i - mark;
          }
          c = d + ZERO;
          // Up to nine digits fit the 32-bit mantissa; everything else takes the longer road.
          if ((c === delimiter || c === LF || c === CR) && digits > 0 && digits < 10) {
            samples[slot + row] = negative ? -value : value;
          } else {
            i = this.otherCell(bytes, { from: cellStart, to }, column);
            if (i < 0) return this.putBack(rowStart);
            c = bytes[i];
          }
        }
        if (c !== delimiter) break;
        i++;
        if (column === lastColumn) {
          i = this.extraCells(bytes, i);
          break;
        }
        column++;
      }
      if (column < lastColumn || this.pending.length > 0) this.closeRow(bytes, { from: rowStart, to: i }, column);
      else this.row++;
      i = this.lineEnd(bytes, i, to);
      if (this.row === capacity) this.flush();
    }
    return i;
  }

  /** Hands on the rows that wait in the storage and empties it. */
  flush(): void {
    const { storage, flush } = this.options;
    const rows = this.row - storage.from;
    this.tally.rows += rows;
    for (let column = 0; column < this.slots.length; column++) {
      const from = this.slots[column] + storage.from;
      if (this.slots[column] < 0) continue;
      this.columns[column].rows += rows;
      if (this.dirty[column] === 0) continue;
      let empty = 0;
      for (let k = from; k < from + rows; k++) if (storage.mask[k] === CELL.empty) empty++;
      this.columns[column].empty += empty;
    }
    if (rows === 0) return;
    flush(rows);
    this.dirty.fill(0);
    this.row = storage.from;
  }

  /** A cell that the hot loop could not take: empty, quoted, long, with exponent, or a text. Returns its end, −1 when it is still open. */
  private otherCell(bytes: Uint8Array, range: { from: number; to: number }, column: number): number {
    const { delimiter } = this;
    let from = range.from;
    while (bytes[from] === SPACE || (bytes[from] === TAB && delimiter !== TAB)) from++;
    if (bytes[from] === QUOTE) {
      const close = this.closingQuote(bytes, from, range.to);
      if (close === -1) return -1;
      if (close > 0) return this.quotedCell(bytes, { from: from + 1, to: close }, column);
      noteSeen(this.tally.openQuote, this.lineNumber());
    }
    let end = from;
    while (bytes[end] !== delimiter && bytes[end] !== LF && bytes[end] !== CR) end++;
    this.takeCell(bytes, { from, to: end }, column);
    return end;
  }

  private quotedCell(bytes: Uint8Array, range: { from: number; to: number }, column: number): number {
    this.tally.quoted = true;
    for (let k = range.from; k < range.to; k++) {
      if (bytes[k] === LF || (bytes[k] === CR && bytes[k + 1] !== LF)) this.innerLines++;
    }
    this.takeCell(bytes, range, column);
    let end = range.to + 1;
    while (bytes[end] !== this.delimiter && bytes[end] !== LF && bytes[end] !== CR) end++;
    return end;
  }

  private takeCell(bytes: Uint8Array, range: { from: number; to: number }, column: number): void {
    const slot = this.slots[column];
    if (slot < 0) return;
    let { from, to } = range;
    while (from < to && bytes[from] <= SPACE && bytes[from] > 0) from++;
    while (to > from && bytes[to - 1] <= SPACE && bytes[to - 1] > 0) to--;
    if (from === to) {
      this.putEmpty(slot, column);
      return;
    }
    const plain = plainNumber(bytes, { from, to }, this.decimal);
    if (plain !== undefined) {
      this.options.storage.samples[slot + this.row] = plain;
      return;
    }
    const text = utf8Text(bytes, from, to).replaceAll('""', '"').replaceAll('\u00A0', ' ').trim();
    const read = cellRead(text, this.options.dialect);
    if (read.code === CELL.empty) {
      this.putEmpty(slot, column);
      return;
    }
    if (text.includes('\0')) noteSeen(this.tally.nul, this.lineNumber());
    this.pending.push({ column, read, text });
  }

  private putEmpty(slot: number, column: number): void {
    const { samples, mask } = this.options.storage;
    samples[slot + this.row] = Number.NaN;
    mask[slot + this.row] = CELL.empty;
    this.dirty[column] = 1;
  }

  /** Index of the closing quote; 0 when the opening one closes nowhere near; −1 when more bytes are needed to say. */
  private closingQuote(bytes: Uint8Array, open: number, to: number): number {
    const end = Math.min(to, open + QUOTE_LIMIT);
    for (let k = open + 1; k < end; k++) {
      if (bytes[k] !== QUOTE) continue;
      if (bytes[k + 1] === QUOTE) {
        k++;
        continue;
      }
      let next = k + 1;
      while (bytes[next] === SPACE && this.delimiter !== SPACE) next++;
      const closes = bytes[next] === this.delimiter || bytes[next] === LF || bytes[next] === CR;
      return closes ? k : 0;
    }
    return end < to || this.final || to - open >= QUOTE_LIMIT ? 0 : -1;
  }

  /** Accepts or refuses a row that is short or holds cells that are no plain numbers. */
  private closeRow(bytes: Uint8Array, range: { from: number; to: number }, column: number): void {
    const { layout, storage } = this.options;
    const isShort = column < layout.kept.length - 1;
    const line = this.lineNumber();
    if (this.isNoRow(bytes, range, { isShort, column, line })) {
      this.forget(column);
      return;
    }
    for (const { column: at, read, text } of this.pending) {
      storage.samples[this.slots[at] + this.row] = read.value;
      storage.mask[this.slots[at] + this.row] = read.code;
      tallyCell(this.columns[at], read, { text, line });
    }
    this.pending = [];
    if (isShort) noteSeen(this.tally.short, line);
    for (let k = column + 1; k < layout.kept.length; k++) if (this.slots[k] >= 0) this.putEmpty(this.slots[k], k);
    this.row++;
  }

  private isNoRow(
    bytes: Uint8Array,
    range: { from: number; to: number },
    row: { isShort: boolean; column: number; line: number },
  ): boolean {
    const { layout } = this.options;
    const hasText = row.isShort || this.pending.some(({ read }) => read.code === CELL.text);
    if (!hasText) return false;
    const text = utf8Text(bytes, range.from, Math.min(range.to, range.from + LONGEST_HEADER)).trim();
    if (text === layout.headerText || (layout.unitText !== '' && text === layout.unitText)) {
      noteSeen(this.tally.repeatedHeader, row.line);
      return true;
    }
    if (!row.isShort) return false;
    if (text === '') {
      noteSeen(this.tally.blank, row.line);
      return true;
    }
    if (this.cutLine) {
      this.droppedLast = true;
      return true;
    }
    if (!this.isStray(text, row.column)) return false;
    noteSeen(this.tally.stray, row.line);
    if (this.tally.strayText === '') this.tally.strayText = text.slice(0, 80);
    return true;
  }

  /** A short line that begins with a text where the table has a number is a footer or a remark, not a row. */
  private isStray(text: string, column: number): boolean {
    const { layout, dialect } = this.options;
    if (layout.firstIsText && column > 0) return false;
    const first = text.split(dialect.delimiter, 1)[0].trim();
    const isNumber = NUMBER_LIKE.test(first);
    return !isNumber && cellRead(first, dialect).code === CELL.text;
  }

  private forget(column: number): void {
    const { mask } = this.options.storage;
    for (let k = 0; k <= column; k++) if (this.slots[k] >= 0) mask[this.slots[k] + this.row] = 0;
    this.pending = [];
  }

  private putBack(rowStart: number): number {
    this.pending = [];
    this.innerLines = 0;
    return rowStart;
  }

  /** Blank line, comment, or zero bytes where a row should begin. */
  private passLine(bytes: Uint8Array, at: number, to: number): number {
    let i = at;
    const line = this.lineNumber();
    if (bytes[i] === 0) {
      while (i < to && bytes[i] === 0) i++;
      noteSeen(this.tally.nul, line);
      return i;
    }
    if (bytes[i] === HASH) {
      while (bytes[i] !== LF && bytes[i] !== CR) i++;
      noteSeen(this.tally.comment, line);
    } else noteSeen(this.tally.blank, line);
    return this.lineEnd(bytes, i, to);
  }

  /** A line that begins with # is a remark, unless the first cell is an error word such as #N/A. */
  private isComment(bytes: Uint8Array, at: number): boolean {
    if (!this.options.layout.comments) return false;
    let end = at;
    while (end < at + 12 && bytes[end] !== this.delimiter && bytes[end] !== LF && bytes[end] !== CR) end++;
    return !isMissingWord(utf8Text(bytes, at, end).trim());
  }

  /** Cells beyond the last column: passed over, counted when they hold something. */
  private extraCells(bytes: Uint8Array, at: number): number {
    let i = at;
    let filled = false;
    for (; bytes[i] !== LF && bytes[i] !== CR; i++) if (bytes[i] !== this.delimiter && bytes[i] > SPACE) filled = true;
    if (filled) noteSeen(this.tally.extra, this.lineNumber());
    return i;
  }

  private lineEnd(bytes: Uint8Array, at: number, to: number): number {
    this.tally.lines += 1 + this.innerLines;
    this.innerLines = 0;
    if (bytes[at] === LF) return at + 1;
    if (at + 1 === to) this.afterReturn = true;
    return at + 1 < to && bytes[at + 1] === LF ? at + 2 : at + 1;
  }

  private lineNumber(): number {
    return this.options.line + this.tally.lines + 1;
  }
}

const LF = 10;
const CR = 13;
const TAB = 9;
const SPACE = 32;
const QUOTE = 34;
const HASH = 35;
const MINUS = 45;
const ZERO = 48;
const NUMBER_LIKE = /^[+-]?[\d.,]+([eE][+-]?\d+)?$/;

/** A cell in quotes longer than this [bytes] is taken for a stray quote. @source our default */
const QUOTE_LIMIT = 65536;
/** Lines longer than this [bytes] are compared with the header by their beginning. @source our default */
const LONGEST_HEADER = 65536;
