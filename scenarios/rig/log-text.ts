/** How a log is written. */
export interface LogDialect {
  readonly delimiter: ',' | ';' | '\t';
  readonly decimal: '.' | ',';
  readonly newline: '\n' | '\r\n';
  readonly encoding: 'utf-8' | 'utf-16le';
  readonly byteOrderMark: boolean;
}

/** One column of a log. hertz: how often the value is renewed; in between it is held. read: the sensor's value at a place of the run. */
export interface LogColumn {
  readonly name: string;
  readonly unit: string;
  readonly decimals: number;
  readonly hertz: number;
  readonly read: (place: LogPlace) => number;
}

/** index: simulation step (whole) at or before the moment; time: s on the roller's clock. */
export interface LogPlace {
  readonly index: number;
  readonly time: number;
}

/** When the rows of a log are taken: time column from 0, `rate` per second on the log's own clock; place of each on the run. */
export interface LogRows {
  readonly count: number;
  readonly hertz: number;
  readonly placeOf: (logTime: number) => LogPlace;
  /** Cells before the columns of each row, such as the time; given the row's number. */
  readonly first: (row: number) => string;
  readonly keep?: (row: number) => boolean;
}

/** A log as lines: preamble, header, perhaps a unit row, rows. */
export function logText(input: {
  preamble: readonly string[];
  firstNames: readonly { name: string; unit: string }[];
  columns: readonly LogColumn[];
  unitRow: boolean;
  rows: LogRows;
  dialect: LogDialect;
}): string {
  const { columns, rows, dialect } = input;
  const named = [...input.firstNames, ...columns];
  const lines = [...input.preamble, named.map((column) => column.name).join(dialect.delimiter)];
  if (input.unitRow) lines.push(named.map((column) => column.unit).join(dialect.delimiter));
  const cells = columns.map(() => '');
  const ticks = columns.map(() => -1);
  for (let row = 0; row < rows.count; row += 1) {
    const logTime = row / rows.hertz;
    const place = rows.placeOf(logTime);
    for (let k = 0; k < columns.length; k += 1) {
      const column = columns[k];
      if (!column) continue;
      // Each slow channel is renewed at its own moments, not all together.
      const tick = Math.floor(logTime * column.hertz + ((k * 0.37) % 1) + 1e-9);
      if (tick === ticks[k]) continue;
      ticks[k] = tick;
      cells[k] = cell(column.read(place), column.decimals, dialect.decimal);
    }
    if (rows.keep && !rows.keep(row)) continue;
    lines.push(`${rows.first(row)}${dialect.delimiter}${cells.join(dialect.delimiter)}`);
  }
  lines.push('');
  return lines.join(dialect.newline);
}

/** A number as this log writes it; an empty cell when there is none. */
export function cell(value: number, decimals: number, decimal: '.' | ','): string {
  if (!Number.isFinite(value)) return '';
  const text = value.toFixed(decimals);
  return decimal === '.' ? text : text.replace('.', ',');
}

/** The bytes of a text in the encoding of its dialect. */
export function logBytes(text: string, dialect: LogDialect): Uint8Array {
  if (dialect.encoding === 'utf-8') return new TextEncoder().encode(dialect.byteOrderMark ? `\ufeff${text}` : text);
  const marked = dialect.byteOrderMark ? `\ufeff${text}` : text;
  const bytes = new Uint8Array(marked.length * 2);
  for (let index = 0; index < marked.length; index += 1) {
    const code = marked.charCodeAt(index);
    bytes[2 * index] = code & 0xff;
    bytes[2 * index + 1] = code >> 8;
  }
  return bytes;
}

/** A signal behind a first-order lag [s], as long as the signal. step: s. */
export function lagged(values: readonly number[], seconds: number, step: number): Float64Array {
  const out = new Float64Array(values.length);
  let state = values[0] ?? 0;
  for (let index = 0; index < values.length; index += 1) {
    state += ((values[index] ?? state) - state) * Math.min(1, step / seconds);
    out[index] = state;
  }
  return out;
}
