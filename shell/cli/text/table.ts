/** A column of a text table: its heading and on which side its cells stand. */
export interface TextColumn {
  readonly heading: string;
  readonly align?: 'left' | 'right';
  /** Widest it may be; longer cells are cut with `…`. */
  readonly most?: number;
}

/** Rows under headings, two spaces apart, as wide as needed. */
export function textTable(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string {
  const cells = rows.map((row) => columns.map(({ most }, i) => cut(row[i] ?? '', most)));
  const widths = columns.map(({ heading }, i) =>
    Math.max(length(heading), ...cells.map((row) => length(row[i] ?? ''))),
  );
  const line = (row: readonly string[]): string =>
    columns
      .map(({ align }, i) => padded(row[i] ?? '', widths[i] ?? 0, align ?? 'left'))
      .join('  ')
      .trimEnd();
  return [
    line(columns.map(({ heading }) => heading)),
    line(widths.map((width) => '─'.repeat(width))),
    ...cells.map(line),
  ].join('\n');
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

function padded(text: string, width: number, align: 'left' | 'right'): string {
  const space = ' '.repeat(Math.max(0, width - length(text)));
  return align === 'right' ? space + text : text + space;
}

function cut(text: string, most: number | undefined): string {
  return most !== undefined && length(text) > most ? `${[...text].slice(0, most - 1).join('')}…` : text;
}

function length(text: string): number {
  return [...text].length;
}
