import { answered, type Finding, type Outcome, refused, unitNamed } from '../../../core/quantities/index.ts';
import type { Dialect } from '../table.ts';
import { transcoder, utf8Text } from './characters.ts';
import { findSigns, type SignsFound } from './decimal.ts';
import { type DelimiterFound, findDelimiter } from './delimiter.ts';
import { detectEncoding } from './encoding.ts';
import { headLines } from './lines.ts';
import type { Row } from './shape.ts';

/** What each part of the dialect was decided from, in words with the cell or count that decided. */
export interface DialectEvidence {
  readonly encoding: string;
  readonly delimiter: string;
  readonly decimal: string;
  readonly decimalCertainty: SignsFound['certainty'];
  readonly header: string;
}

export interface DialectFound {
  readonly dialect: Dialect;
  readonly evidence: DialectEvidence;
}

/** Bytes of a file that its dialect is decided from. @source our default: 400 lines of a wide log fit in */
export const HEAD_BYTES = 1 << 20;

/**
 * How a delimited text is written. Every part given in `hint` is taken as it is.
 *
 * Refuses: empty-file, not-delimited-text (says what it is), ambiguous-decimal, contradictory-decimal, ambiguous-delimiter, no-table.
 *
 * @param head first bytes of the file, at most HEAD_BYTES are looked at
 * @param hint what a person or an earlier file has decided; `file` for the messages
 */
export function detectDialect(
  head: Uint8Array,
  hint: Partial<Dialect> & { readonly file?: string } = {},
): Outcome<DialectFound> {
  const file = hint.file ?? '';
  const cut = head.length >= HEAD_BYTES;
  const bytes = head.subarray(0, HEAD_BYTES);
  const found = detectEncoding(bytes, file);
  if (!found.ok) return found;
  const encoding = hint.encoding ?? found.value.encoding;
  const text = utf8Text(transcoder(encoding).push(bytes.subarray(found.value.skip)));
  const lines = headLines(text.replace(/\0+$/, ''), cut);
  const { delimiter, rows, width, evidence } = findDelimiter(lines, hint.delimiter);
  const table = findTable({ delimiter, rows, width, evidence }, hint);
  if (!table) return noTable(file, lines.length);
  const clash = commaClash(rows, table, { delimiter, file });
  if (clash) return refused(clash);
  const dataRows = rows.filter((row) => !row.comment && row.line.number >= table.firstLine);
  const signs = findSigns(dataRows, { delimiter, file, given: hint });
  if (!signs.ok) return signs;
  const quoted = rows.some((row) => row.line.text.includes('"'));
  const dialect: Dialect = {
    encoding,
    byteOrderMark: found.value.byteOrderMark,
    delimiter,
    decimal: signs.value.decimal,
    thousands: signs.value.thousands,
    headerLine: table.headerLine,
    unitLine: table.unitLine,
    firstLine: table.firstLine,
    quote: hint.quote ?? (quoted ? '"' : ''),
  };
  const findings: Finding[] = [...found.findings, ...signs.findings];
  const says: DialectEvidence = {
    encoding: found.value.evidence,
    delimiter: evidence,
    decimal: signs.value.evidence,
    decimalCertainty: signs.value.certainty,
    header: table.evidence,
  };
  return answered({ dialect, evidence: says }, findings);
}

interface TableLines {
  readonly headerLine: number;
  readonly unitLine: number;
  readonly firstLine: number;
  readonly evidence: string;
}

function findTable(found: DelimiterFound, hint: Partial<Dialect>): TableLines | undefined {
  const { rows, width } = found;
  if (hint.firstLine !== undefined) {
    return {
      headerLine: hint.headerLine ?? 0,
      unitLine: hint.unitLine ?? 0,
      firstLine: hint.firstLine,
      evidence: 'given',
    };
  }
  const start = firstValues(rows, width);
  if (start < 0) return withoutValues(rows, width, found.delimiter);
  const headed = headersBefore(rows, start, width);
  if (headed.header >= 0 && headed.unit < 0 && isUnitRowOfOnes(rows, start))
    return described(rows, { header: headed.header, unit: start }, start + 1);
  if (headed.header >= 0) return described(rows, headed, start);
  if (isHeaderOfNumbers(rows, start)) return described(rows, { header: start, unit: -1 }, start + 1);
  return described(rows, headed, start);
}

/** Index of the first of at least three lines of values in a row (fewer when the file has fewer). */
function firstValues(rows: readonly Row[], width: number): number {
  const isFirst = (row: Row): boolean => !row.comment && row.cells.length === width && row.valueShare >= 0.5;
  const seen = new Set<string>();
  for (let k = 0; k < rows.length; k++) {
    const goesOn = (row: Row): boolean =>
      row.comment || isBlank(row) || row.valueShare >= 0.5 || seen.has(row.line.text) || isFooter(row, width);
    if (isFirst(rows[k]) && rows.slice(k, k + RUN_OF_VALUES).every(goesOn)) return k;
    seen.add(rows[k].line.text);
  }
  return rows.findIndex(isFirst);
}

/** A text alone on its line among rows of several cells. */
function isFooter(row: Row, width: number): boolean {
  return width > 1 && row.cells.length === 1;
}

function headersBefore(rows: readonly Row[], start: number, width: number): { header: number; unit: number } {
  const last = previousFilled(rows, start);
  if (last < 0 || !isHeading(rows[last], width)) return { header: -1, unit: -1 };
  const before = previousFilled(rows, last);
  const hasNames = before >= 0 && isHeading(rows[before], width);
  return hasNames && isUnitRow(rows[last]) ? { header: before, unit: last } : { header: last, unit: -1 };
}

/** A line that can name columns: mostly texts, about as many cells as a row of values. */
function isHeading(row: Row, width: number): boolean {
  const count = row.cells.length;
  if (width === 1) return count === 1 && row.valueShare < 0.5 && !row.comment;
  const fits = row.comment
    ? count === width || count === width - 1
    : count >= Math.max(2, 0.6 * width) && count <= 1.5 * width + 1;
  return fits && row.valueShare < 0.5;
}

function isUnitRow(row: Row): boolean {
  const filled = row.cells.filter((cell) => cell !== '');
  const known = filled.filter((cell) => unitNamed(withoutBrackets(cell)) !== undefined).length;
  const unitLike = filled.filter(
    (cell) => /^[[(].*[\])]$/.test(cell) || UNIT_BLANKS.has(cell) || unitNamed(cell) !== undefined,
  ).length;
  return filled.length > 0 && known > 0 && unitLike >= 0.6 * filled.length;
}

/** Units of which most are 1 (`s,Pa,1,1,1`) look like values: every text is a unit above a column of numbers, every number a 1. */
function isUnitRowOfOnes(rows: readonly Row[], at: number): boolean {
  const { cells, kinds } = rows[at];
  const below = rows.slice(at + 1, at + 4).filter((row) => row.cells.length === cells.length);
  if (below.length < 2 || !kinds.includes('text')) return false;
  return cells.every((cell, k) =>
    kinds[k] === 'text'
      ? unitNamed(withoutBrackets(cell)) !== undefined && below.every((row) => row.kinds[k] === 'value')
      : cell === '1' || cell === '',
  );
}

/** Numbers as names (`time;1;2;3`): a text above a column of numbers. */
function isHeaderOfNumbers(rows: readonly Row[], start: number): boolean {
  const below = rows.slice(start + 1, start + 4).filter((row) => row.cells.length === rows[start].cells.length);
  if (below.length < 2) return false;
  return rows[start].kinds.some((kind, k) => kind === 'text' && below.every((row) => row.kinds[k] === 'value'));
}

/** No line of values at all: a header alone, or columns of texts under their names. */
function withoutValues(rows: readonly Row[], width: number, delimiter: Dialect['delimiter']): TableLines | undefined {
  const heading = rows.findIndex(
    (row) => !row.comment && row.cells.length === width && row.cells.some((cell) => cell !== ''),
  );
  if (heading < 0) return undefined;
  if ((width === 1 && rows.length > 1) || delimiter === ' ') return undefined;
  const next = rows[heading + 1];
  const unit = next !== undefined && next.cells.length === width && isUnitRow(next) ? heading + 1 : -1;
  return described(rows, { header: heading, unit }, Math.max(heading, unit) + 1);
}

function described(rows: readonly Row[], headed: { header: number; unit: number }, start: number): TableLines {
  const header = headed.header < 0 ? 0 : rows[headed.header].line.number;
  const unitLine = headed.unit < 0 ? 0 : rows[headed.unit].line.number;
  const firstLine = start < rows.length ? rows[start].line.number : rows[rows.length - 1].line.next;
  const evidence =
    header === 0
      ? 'no line of texts stands above the values'
      : `texts on line ${header} above values from line ${firstLine}`;
  return { headerLine: header, unitLine, firstLine, evidence };
}

/** A comma that delimits and is the decimal sign too: twice as many cells in the rows as names in the header. */
function commaClash(rows: readonly Row[], table: TableLines, options: { delimiter: string; file: string }) {
  const header = rows.find((row) => row.line.number === table.headerLine);
  const values = rows.filter((row) => row.line.number >= table.firstLine && !row.comment && !isBlank(row));
  if (options.delimiter !== ',' || values.length === 0) return undefined;
  const names = header?.cells.length ?? rows[table.firstLine - 2]?.cells.length ?? 0;
  const cells = values[0].cells.length;
  if (names === 0 || cells !== 2 * names || !values.every((row) => row.cells.length === cells)) return undefined;
  return {
    kind: 'ambiguous-delimiter',
    message: `invalid delimiter: ${cells} cells under ${names} names; the comma seems to be delimiter and decimal sign at once`,
    place: { file: options.file, line: values[0].line.number },
    numbers: { cells, names },
  };
}

function noTable(file: string, lines: number): Outcome<DialectFound> {
  return refused({
    kind: 'no-table',
    message: `missing table: no rows of values found in the first ${lines} lines, expected a delimited text`,
    place: { file },
    numbers: { lines },
  });
}

function previousFilled(rows: readonly Row[], before: number): number {
  for (let k = before - 1; k >= 0; k--) if (!isBlank(rows[k])) return k;
  return -1;
}

function isBlank(row: Row): boolean {
  return row.cells.every((cell) => cell === '');
}

function withoutBrackets(text: string): string {
  return text.replace(/^[[(]\s*(.*?)\s*[\])]$/, '$1');
}

const UNIT_BLANKS: ReadonlySet<string> = new Set(['-', '--', 'n/a', '#', '1', '[]', '()']);

/** Lines of values that must follow one another to be the table. @source our default */
const RUN_OF_VALUES = 3;
