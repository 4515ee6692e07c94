import { CELL, type CellRead } from './cell.ts';

/** What was seen in one column, cell by cell. Plain data: it crosses from worker to worker and adds up. */
export interface ColumnTally {
  rows: number;
  empty: number;
  /** Cells per code that is neither number nor empty. */
  readonly codes: Map<number, number>;
  /** Distinct texts with their counts, bounded. */
  readonly texts: Map<string, number>;
  /** Units written behind numbers, with their counts. */
  readonly units: Map<string, number>;
  firstTextLine: number;
  firstText: string;
  /** Unreadable cells that would be a number under the other decimal sign. */
  otherDecimal: number;
  /** Those among them that can be nothing else: not three digits behind the sign. */
  otherDecimalProof: number;
}

/** A count with the line where it began; 0 when never. */
export interface Seen {
  count: number;
  firstLine: number;
}

/** What was seen of the rows. */
export interface RowTally {
  rows: number;
  /** Line ends passed. */
  lines: number;
  readonly short: Seen;
  readonly extra: Seen;
  readonly comment: Seen;
  readonly blank: Seen;
  readonly stray: Seen;
  readonly repeatedHeader: Seen;
  readonly nul: Seen;
  readonly openQuote: Seen;
  /** Set when a cell in quotes was met: then a file must not be split at line ends. */
  quoted: boolean;
  strayText: string;
}

export function emptyColumnTally(): ColumnTally {
  return {
    rows: 0,
    empty: 0,
    codes: new Map(),
    texts: new Map(),
    units: new Map(),
    firstTextLine: 0,
    firstText: '',
    otherDecimal: 0,
    otherDecimalProof: 0,
  };
}

export function emptyRowTally(): RowTally {
  const none = (): Seen => ({ count: 0, firstLine: 0 });
  return {
    rows: 0,
    lines: 0,
    short: none(),
    extra: none(),
    comment: none(),
    blank: none(),
    stray: none(),
    repeatedHeader: none(),
    nul: none(),
    openQuote: none(),
    quoted: false,
    strayText: '',
  };
}

/** Counts one cell that is not a plain number. */
export function tallyCell(tally: ColumnTally, read: CellRead, at: { text: string; line: number }): void {
  if (read.code !== CELL.number) tally.codes.set(read.code, (tally.codes.get(read.code) ?? 0) + 1);
  if (read.code === CELL.text || read.code === CELL.switch) {
    const text = at.text.slice(0, LONGEST_TEXT);
    const count = tally.texts.get(text);
    if (count !== undefined || tally.texts.size < MOST_TEXTS) tally.texts.set(text, (count ?? 0) + 1);
  }
  if (read.code === CELL.text) {
    if (tally.firstTextLine === 0) {
      tally.firstTextLine = at.line;
      tally.firstText = at.text.slice(0, LONGEST_TEXT);
    }
    if (OTHER_DECIMAL.test(at.text)) {
      tally.otherDecimal++;
      if (!OPEN_SIGN.test(at.text)) tally.otherDecimalProof++;
    }
  }
  if (read.unit !== undefined && (tally.units.has(read.unit) || tally.units.size < MOST_TEXTS)) {
    tally.units.set(read.unit, (tally.units.get(read.unit) ?? 0) + 1);
  }
}

export function noteSeen(seen: Seen, line: number, count = 1): void {
  if (seen.count === 0) seen.firstLine = line;
  seen.count += count;
}

/** Adds what a later part of the same file saw; its lines begin after `lines` line ends. */
export function addColumnTally(into: ColumnTally, later: ColumnTally, lines: number): void {
  into.rows += later.rows;
  into.empty += later.empty;
  into.otherDecimal += later.otherDecimal;
  into.otherDecimalProof += later.otherDecimalProof;
  addCounts(into.codes, later.codes);
  addCounts(into.texts, later.texts, MOST_TEXTS);
  addCounts(into.units, later.units, MOST_TEXTS);
  if (into.firstTextLine === 0 && later.firstTextLine > 0) {
    into.firstTextLine = later.firstTextLine + lines;
    into.firstText = later.firstText;
  }
}

export function addRowTally(into: RowTally, later: RowTally): void {
  for (const key of SEEN_KEYS) {
    if (later[key].count > 0) noteSeen(into[key], later[key].firstLine + into.lines, later[key].count);
  }
  into.rows += later.rows;
  into.lines += later.lines;
  into.quoted ||= later.quoted;
  if (into.strayText === '') into.strayText = later.strayText;
}

function addCounts<Key>(
  into: Map<Key, number>,
  later: ReadonlyMap<Key, number>,
  most = Number.POSITIVE_INFINITY,
): void {
  for (const [key, count] of later) {
    if (into.has(key) || into.size < most) into.set(key, (into.get(key) ?? 0) + count);
  }
}

const SEEN_KEYS = ['short', 'extra', 'comment', 'blank', 'stray', 'repeatedHeader', 'nul', 'openQuote'] as const;

/** Distinct texts that are counted, so that the 50 most frequent come out right in all but odd files. @source our default */
const MOST_TEXTS = 1000;
const LONGEST_TEXT = 200;
const OTHER_DECIMAL = /^[+-]?\d+[.,]\d+$/;
const OPEN_SIGN = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;
