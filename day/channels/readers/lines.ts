import type { Dialect } from '../table.ts';

/** A line of the head as written, with the number of its first physical line (1-based) and of the line after it. */
export interface Line {
  readonly number: number;
  readonly next: number;
  readonly text: string;
}

/**
 * First lines of a text. A line end inside quotes does not end the line if the quote closes within a few lines.
 * The unterminated rest is left out when `cut` says that the text goes on behind it.
 */
export function headLines(text: string, cut: boolean, most = 400): readonly Line[] {
  const physical = text.split(/\r\n|\n|\r/);
  if (cut || physical[physical.length - 1] === '') physical.pop();
  const lines: Line[] = [];
  for (let k = 0; k < physical.length && lines.length < most; ) {
    const joined = joinedLines(physical, k);
    lines.push({ number: k + 1, next: k + 1 + joined, text: physical.slice(k, k + joined).join('\n') });
    k += joined;
  }
  return lines;
}

/** Cells of a line, trimmed and without quotes. With a space as delimiter any number of spaces is one. */
export function cellsOf(text: string, delimiter: Dialect['delimiter']): readonly string[] {
  if (delimiter === ' ') {
    const trimmed = text.trim();
    return trimmed === '' ? [] : (trimmed.match(/"(?:[^"]|"")*"|[^ ]+/g) ?? []).map(bare);
  }
  if (!text.includes('"')) return text.split(delimiter).map((cell) => cell.trim());
  const cells: string[] = [];
  let start = 0;
  let quoted = false;
  for (let i = 0; i <= text.length; i++) {
    if (text[i] === '"') quoted = quoted ? false : quoted || text.slice(start, i).trim() === '' || text[i - 1] === '"';
    else if (i === text.length || (text[i] === delimiter && !quoted)) {
      cells.push(bare(text.slice(start, i)));
      start = i + 1;
    }
  }
  return cells;
}

function bare(cell: string): string {
  const trimmed = cell.trim();
  const isQuoted = trimmed.length > 1 && trimmed.startsWith('"') && trimmed.endsWith('"');
  return isQuoted ? trimmed.slice(1, -1).replaceAll('""', '"').trim() : trimmed;
}

function joinedLines(physical: readonly string[], at: number): number {
  let quotes = quotesIn(physical[at]);
  if (quotes % 2 === 0) return 1;
  for (let k = 1; k < MOST_JOINED && at + k < physical.length; k++) {
    quotes += quotesIn(physical[at + k]);
    if (quotes % 2 === 0) return k + 1;
  }
  return 1;
}

function quotesIn(text: string): number {
  let count = 0;
  for (let i = text.indexOf('"'); i >= 0; i = text.indexOf('"', i + 1)) count++;
  return count;
}

/** Physical lines that one quoted header cell may span. @source our default */
const MOST_JOINED = 6;
