import type { Dialect } from '../table.ts';
import { clockSeconds } from './clock.ts';
import { dateSeconds } from './date.ts';
import { cellsOf, type Line } from './lines.ts';
import { isMissingWord, switchValue } from './words.ts';

/** One line of the head cut into cells, and what kinds of cells it has. */
export interface Row {
  readonly line: Line;
  readonly cells: readonly string[];
  readonly kinds: readonly ('value' | 'empty' | 'text')[];
  /** Values among the cells that are not empty, 0…1. */
  readonly valueShare: number;
  readonly comment: boolean;
}

/** Lines cut at a delimiter. Comment lines lose their mark so that a commented header can be recognised. */
export function rowsOf(lines: readonly Line[], delimiter: Dialect['delimiter']): readonly Row[] {
  return lines.map((line) => {
    const comment = line.text.startsWith('#');
    const cells = cellsOf(comment ? line.text.replace(/^#+\s*/, '') : line.text, delimiter);
    const kinds = cells.map((cell) => looseKind(cell, delimiter));
    const values = kinds.filter((kind) => kind === 'value').length;
    const filled = kinds.filter((kind) => kind !== 'empty').length;
    return { line, cells, kinds, valueShare: filled === 0 ? 0 : values / filled, comment };
  });
}

/** Whether a cell can be a value under either decimal sign. Only used to find the shape of the file. */
export function looseKind(cell: string, delimiter: Dialect['delimiter']): 'value' | 'empty' | 'text' {
  if (isMissingWord(cell)) return 'empty';
  if (LOOSE_NUMBER.test(cell) || (delimiter !== ' ' && SPACED_NUMBER.test(cell))) return 'value';
  if (cell.length > 40) return 'text';
  if (switchValue(cell) !== undefined) return 'value';
  if (!/^[+-]?\d/.test(cell)) return 'text';
  return clockSeconds(cell) || dateSeconds(cell) || MEASURE.test(cell) ? 'value' : 'text';
}

/** The number of cells that the lines of values agree on, each line counting by its share of values; 0 when there are none. */
export function commonWidth(rows: readonly Row[]): number {
  const weights = new Map<number, number>();
  for (const { comment, valueShare, cells } of rows) {
    if (!comment && valueShare >= 0.5) weights.set(cells.length, (weights.get(cells.length) ?? 0) + valueShare);
  }
  let best = 0;
  for (const [width, weight] of weights) {
    const top = weights.get(best) ?? 0;
    if (weight > top || (weight === top && width > best)) best = width;
  }
  return best;
}

const LOOSE_NUMBER = /^[+-]?(?:\d[\d.,'’]*|[.,]\d+)(?:[eE][+-]?\d+)?$/;
const SPACED_NUMBER = /^[+-]?\d{1,3}(?:[ \u00A0\u202F]\d{3})+(?:[.,]\d*)?$/;
const MEASURE = /^[+-]?\d[\d.,]*\s?[%°A-Za-zµμΩ][^\d\s]{0,7}$/;
