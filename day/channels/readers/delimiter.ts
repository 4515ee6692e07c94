import type { Dialect } from '../table.ts';
import type { Line } from './lines.ts';
import { commonWidth, type Row, rowsOf } from './shape.ts';

export interface DelimiterFound {
  readonly delimiter: Dialect['delimiter'];
  readonly rows: readonly Row[];
  /** Cells of a row of values. */
  readonly width: number;
  readonly evidence: string;
}

/**
 * The delimiter under which most cells of the most lines of equal width are values. Ties go to the sign that is rarer in
 * numbers and texts: tab, semicolon, bar, comma, space.
 */
export function findDelimiter(lines: readonly Line[], given?: Dialect['delimiter']): DelimiterFound {
  const candidates = given === undefined ? CANDIDATES : [given];
  const sample = lines.length > 2 * SAMPLED ? [...lines.slice(0, SAMPLED), ...lines.slice(-SAMPLED)] : lines;
  const tried = candidates.map((delimiter) => scored(delimiter, sample));
  let best = tried[0];
  for (const other of tried) if (other.score > best.score + 1e-9) best = other;
  const { delimiter, width, score } = best;
  const rows = sample === lines ? best.rows : rowsOf(lines, delimiter);
  const evidence =
    given !== undefined ? 'given' : `${width} cells in ${Math.round(score)} of ${sample.length} lines looked at`;
  return { delimiter, rows, width: Math.max(1, width), evidence };
}

function scored(delimiter: Dialect['delimiter'], lines: readonly Line[]) {
  const rows = rowsOf(lines, delimiter);
  const width = commonWidth(rows);
  if (width >= 2) {
    let score = 0;
    for (const row of rows) if (!row.comment && row.cells.length === width) score += row.valueShare;
    return { delimiter, rows, width, score };
  }
  // No line of values: the widest split that most lines share, worth less than any line of values.
  const widths = rows.filter((row) => !row.comment && row.cells.length > 1).map((row) => row.cells.length);
  const widest = widths.length * 2 > rows.length || lines.length < 3 ? Math.max(0, ...widths) : 0;
  const spaced = delimiter === ' ' ? 0.001 : 0.01;
  return {
    delimiter,
    rows,
    width: widest > 1 ? widest : width,
    score: widest > 1 ? spaced * Math.min(1, widest / 100) : 0,
  };
}

const CANDIDATES: readonly Dialect['delimiter'][] = ['\t', ';', '|', ',', ' '];

/** Lines tried with every delimiter: as many from the start as from the end of the head. @source our default */
const SAMPLED = 50;
