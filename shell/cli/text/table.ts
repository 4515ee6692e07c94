/** A column of a text table: its heading and on which side its cells stand. */
export interface TextColumn {
  readonly heading: string;
  readonly align?: 'left' | 'right';
  /** Longer cells are broken into lines where the table would be wider than the person's window. */
  readonly wraps?: boolean;
}

/** Narrowest a column with broken cells becomes. @source our default: a long word and a unit */
const NARROWEST = 18;

/** Rows under headings, two spaces apart, as wide as needed; up to `width` as far as columns that may wrap allow. */
export function textTable(
  columns: readonly TextColumn[],
  rows: readonly (readonly string[])[],
  width = Number.POSITIVE_INFINITY,
): string {
  const widths = columnWidths(columns, rows, width);
  const line = (row: readonly string[]): string =>
    columns
      .map(({ align }, i) => padded(row[i] ?? '', widths[i] ?? 0, align ?? 'left'))
      .join('  ')
      .trimEnd();
  const lines = (row: readonly string[]): readonly string[] => {
    const broken = columns.map(({ wraps }, i) =>
      wraps ? wrapped(row[i] ?? '', widths[i] ?? 0).split('\n') : [row[i] ?? ''],
    );
    const most = Math.max(...broken.map((parts) => parts.length));
    return Array.from({ length: most }, (_, k) => line(broken.map((parts) => parts[k] ?? '')));
  };
  return [
    line(columns.map(({ heading }) => heading)),
    line(widths.map((one) => '─'.repeat(one))),
    ...rows.flatMap(lines),
  ].join('\n');
}

function columnWidths(
  columns: readonly TextColumn[],
  rows: readonly (readonly string[])[],
  width: number,
): readonly number[] {
  const natural = columns.map(({ heading }, i) =>
    Math.max(length(heading), ...rows.map((row) => length(row[i] ?? ''))),
  );
  const isBroken = (i: number): boolean => columns[i]?.wraps === true;
  const fixed = natural.reduce((all, one, i) => all + (isBroken(i) ? 0 : one + 2), 0);
  const level = wrapLevel(
    natural.filter((_, i) => isBroken(i)).map((one) => one + 2),
    width + 2 - fixed,
  );
  return natural.map((one, i) => (isBroken(i) ? Math.min(one, Math.max(NARROWEST, level - 2)) : one));
}

/** Width down to which the widest columns are cut so that all of them fit in the room. */
function wrapLevel(widths: readonly number[], room: number): number {
  const rising = [...widths].sort((a, b) => a - b);
  let left = room;
  for (const [i, one] of rising.entries()) {
    const share = Math.floor(left / (rising.length - i));
    if (one > share) return share;
    left -= one;
  }
  return Number.POSITIVE_INFINITY;
}

/** Text broken at spaces to a width, with every further line indented. */
export function wrapped(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && length(line) + 1 + length(word) > width) {
      lines.push(line);
      line = indent + word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].join('\n');
}

/** Every line two spaces in. */
export function indented(text: string): string {
  return text.replaceAll(/^(?=.)/gm, '  ');
}

function padded(text: string, width: number, align: 'left' | 'right'): string {
  const space = ' '.repeat(Math.max(0, width - length(text)));
  return align === 'right' ? space + text : text + space;
}

function length(text: string): number {
  return [...text].length;
}
