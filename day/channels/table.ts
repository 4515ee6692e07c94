import type { Finding } from '../../core/quantities/index.ts';

/**
 * A file read as columns, before anybody knows what they mean. Every reader (delimited text, Parquet, Arrow) hands this on.
 * Numbers are as written in the file (not SI). A column of text keeps NaN samples and its distinct texts.
 */
export interface Table {
  readonly source: string;
  readonly file: string;
  readonly format: TableFormat;
  readonly columns: readonly Column[];
  readonly rows: number;
  /** Lines before the header, as written: often name the unit system, the date, the vehicle. */
  readonly preamble: readonly string[];
  readonly findings: readonly Finding[];
}

export interface Column {
  /** Name as written, made unique with a suffix ` (2)` when repeated. */
  readonly name: string;
  /** Unit as written in a unit row or in the header, without brackets; empty when there is none. */
  readonly unit: string;
  /** As long as `rows`; NaN where the cell was empty or was not a number. */
  readonly samples: Float64Array;
  /** As long as `rows`; REASONS code: measured, empty or unreadable. */
  readonly mask: Uint8Array;
  /** How the cells were written. clock: `mm:ss.s`, `hh:mm:ss`, converted to s. date: date-time, converted to s since 1970-01-01 UTC. */
  readonly writing: 'number' | 'clock' | 'date' | 'text' | 'empty';
  /** Up to 50 distinct texts of a text column, most frequent first. */
  readonly texts: readonly string[];
}

export type TableFormat =
  | { readonly kind: 'delimited'; readonly dialect: Dialect }
  | { readonly kind: 'parquet' }
  | { readonly kind: 'arrow' };

/** How a delimited text is written. Found by us, shown to the person, never guessed by a library. */
export interface Dialect {
  readonly encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';
  readonly byteOrderMark: boolean;
  readonly delimiter: ',' | ';' | '\t' | '|' | ' ';
  readonly decimal: '.' | ',';
  readonly thousands: '' | ',' | '.' | ' ' | "'";
  /** Line number (1-based) of the header, of the unit row (0: none) and of the first row of values. */
  readonly headerLine: number;
  readonly unitLine: number;
  readonly firstLine: number;
  readonly quote: '"' | '';
}
