import { unitNamed } from '../../../core/quantities/index.ts';
import type { Dialect } from '../table.ts';
import { headLines } from './lines.ts';
import { type Row, rowsOf } from './shape.ts';

/** The columns of a file as its head names them. */
export interface Layout {
  readonly names: readonly string[];
  readonly units: readonly string[];
  /** For each column of the file its place among the kept ones, −1 when it is not kept. */
  readonly kept: readonly number[];
  readonly preamble: readonly string[];
  /** Header and unit row as written, to know them again further down. */
  readonly headerText: string;
  readonly unitText: string;
  readonly firstIsText: boolean;
  /** Lines that begin with # are remarks. */
  readonly comments: boolean;
  readonly repeatedNames: number;
  /** Columns of values beyond the last name of the header. */
  readonly unnamed: number;
}

/**
 * Columns from the head of a file, as text, under its dialect.
 *
 * @param select names to keep (as in the table: without unit, made unique); all when undefined
 */
export function layoutOf(
  head: string,
  dialect: Dialect,
  options: { cut: boolean; select?: readonly string[] | undefined },
): Layout {
  const lines = headLines(head, options.cut);
  const rows = rowsOf(lines, dialect.delimiter);
  const values = rows.filter((row) => row.line.number >= dialect.firstLine && row.cells.some((cell) => cell !== ''));
  const comments = values.filter((row) => row.comment).length * 2 <= values.length;
  const data = comments ? values.filter((row) => !row.comment) : values;
  const header = rows.find((row) => row.line.number === dialect.headerLine);
  const unitRow = rows.find((row) => row.line.number === dialect.unitLine);
  const count = columnCount(header, data);
  const named = Array.from({ length: count }, (_, k) => headed(header?.cells[k] ?? '', unitRow?.cells[k] ?? ''));
  const { names, repeated } = uniqueNames(named.map(({ name }, k) => name || `column ${k + 1}`));
  return {
    names,
    units: named.map(({ unit }) => unit),
    kept: keptColumns(names, options.select),
    preamble: lines.filter((line) => line.number < (dialect.headerLine || dialect.firstLine)).map((line) => line.text),
    headerText: header?.line.text.trim() ?? '',
    unitText: unitRow?.line.text.trim() ?? '',
    firstIsText: data.filter((row) => row.kinds[0] === 'text').length * 2 > data.length,
    comments,
    repeatedNames: repeated,
    unnamed: header ? count - Math.min(count, filledWidth(header)) : 0,
  };
}

/** As many columns as names, or as values where the header is short; a last column that is empty everywhere is a trailing delimiter. */
function columnCount(header: Row | undefined, data: readonly Row[]): number {
  const widths = new Map<number, number>();
  for (const row of data) widths.set(filledWidth(row), (widths.get(filledWidth(row)) ?? 0) + 1);
  let common = 0;
  for (const [width, seen] of widths)
    if (seen > (widths.get(common) ?? 0) || (seen === widths.get(common) && width > common)) common = width;
  const named = header ? filledWidth(header) : 0;
  const widest = header ? common : Math.max(common, ...data.map(filledWidth));
  return Math.max(1, named, widest);
}

function filledWidth(row: Row): number {
  let width = row.cells.length;
  while (width > 0 && row.cells[width - 1] === '') width--;
  return width;
}

/** Name and unit of a column: the unit from its own cell or field, else from brackets behind the name. */
export function headed(text: string, unitCell: string): { readonly name: string; readonly unit: string } {
  const cell = text.replaceAll(/\s+/g, ' ').trim();
  const unit = unitCell.replace(/^[[(]\s*(.*?)\s*[\])]$/, '$1');
  if (unit !== '') return { name: cell, unit };
  const square = /^(.*\S)\s*\[([^\][]*)\]$/.exec(cell);
  if (square && isUnitText(square[2])) return { name: square[1], unit: square[2].trim() };
  const round = /^(.*?\S)\s*\((.*)\)$/.exec(cell);
  if (round && (unitNamed(round[2]) !== undefined || /^[%°]|[/·²]/.test(round[2])))
    return { name: round[1], unit: round[2].trim() };
  return { name: cell, unit: '' };
}

/** `[bank 1]` and `[2]` say which one, not in what unit. */
function isUnitText(text: string): boolean {
  return unitNamed(text) !== undefined || !(/^\d+$/.test(text) || /\w\s+\w/.test(text));
}

/** Names made unique with ` (2)`, ` (3)` behind the repeated ones. */
export function uniqueNames(names: readonly string[]): { names: readonly string[]; repeated: number } {
  const taken = new Set<string>();
  let repeated = 0;
  const unique = names.map((name) => {
    let own = name;
    for (let n = 2; taken.has(own); n++) own = `${name} (${n})`;
    if (own !== name) repeated++;
    taken.add(own);
    return own;
  });
  return { names: unique, repeated };
}

function keptColumns(names: readonly string[], select: readonly string[] | undefined): readonly number[] {
  let next = 0;
  return names.map((name) => (select === undefined || select.includes(name) ? next++ : -1));
}
