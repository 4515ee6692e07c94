import { parquetWriteBuffer } from 'hyparquet-writer';
import { uniqueNames } from '../../day/channels/index.ts';

/** One channel to be written: numbers in the unit that it states; missing is NaN. `samples` is as long as `times`. */
export interface ExportChannel {
  readonly name: string;
  readonly unit: string;
  /** s */
  readonly times: ArrayLike<number>;
  readonly samples: ArrayLike<number>;
}

export type ExportFormat = 'csv' | 'parquet' | 'json';

/**
 * Channels as the bytes of a file that this reader reads back to the last bit.
 *
 * csv: UTF-8, comma, decimal point, names then units, first column time in s. Channels with other times share the table:
 * a row per time that any of them has, empty where a channel has no sample; nothing is interpolated. Names that a spreadsheet
 * would run as a formula get an apostrophe in front.
 * parquet: the same columns as doubles, units in the file's metadata key `units`. json: every channel with its own times.
 */
export function exportChannels(request: {
  readonly channels: readonly ExportChannel[];
  readonly format: ExportFormat;
}): Uint8Array {
  const { channels, format } = request;
  for (const { name, times, samples } of channels) {
    if (times.length !== samples.length)
      throw new Error(`channel ${name}: ${times.length} times for ${samples.length} samples`);
  }
  switch (format) {
    case 'csv':
      return Buffer.from(csvText(commonTable(channels)));
    case 'parquet':
      return parquetBytes(commonTable(channels));
    case 'json':
      return Buffer.from(jsonText(channels));
  }
}

interface WrittenColumn {
  readonly name: string;
  readonly unit: string;
  readonly values: Float64Array;
}

/** Time and channels on the union of their times. */
function commonTable(channels: readonly ExportChannel[]): readonly WrittenColumn[] {
  const times = unionOfTimes(channels);
  const rowOf = new Map<number, number>();
  times.forEach((time, row) => {
    rowOf.set(time, row);
  });
  const { names } = uniqueNames(['time', ...channels.map(({ name }) => name)]);
  const columns = channels.map(({ unit, times: own, samples }, k): WrittenColumn => {
    const values = new Float64Array(times.length).fill(Number.NaN);
    for (let i = 0; i < own.length; i++) {
      const row = rowOf.get(own[i] ?? Number.NaN);
      if (row !== undefined) values[row] = samples[i] ?? Number.NaN;
    }
    return { name: names[k + 1] ?? '', unit, values };
  });
  return [{ name: 'time', unit: 's', values: times }, ...columns];
}

function unionOfTimes(channels: readonly ExportChannel[]): Float64Array {
  const all = new Set<number>();
  for (const { times } of channels)
    for (let i = 0; i < times.length; i++) if (Number.isFinite(times[i])) all.add(times[i] ?? 0);
  return Float64Array.from(all).sort();
}

function csvText(columns: readonly WrittenColumn[]): string {
  const lines = [
    columns.map(({ name }) => textCell(name)).join(','),
    columns.map(({ unit }) => textCell(unit)).join(','),
  ];
  const rows = columns[0]?.values.length ?? 0;
  for (let row = 0; row < rows; row++)
    lines.push(columns.map(({ values }) => numberCell(values[row] ?? Number.NaN)).join(','));
  return `${lines.join('\n')}\n`;
}

/** Shortest text that reads back to the same double. @source ECMAScript Number::toString */
function numberCell(value: number): string {
  if (!Number.isFinite(value)) return '';
  return Object.is(value, -0) ? '-0' : String(value);
}

/**
 * A text that begins like a formula gets an apostrophe, inside quotes.
 * @source OWASP, CSV injection: = + - @ tab and carriage return
 */
export function textCell(text: string): string {
  const isFormula = /^[=+\-@\t\r]/.test(text);
  if (!isFormula && !/[",\n\r]|^\s|\s$/.test(text)) return text;
  return `"${isFormula ? "'" : ''}${text.replaceAll('"', '""')}"`;
}

function parquetBytes(columns: readonly WrittenColumn[]): Uint8Array {
  const units = Object.fromEntries(columns.map(({ name, unit }) => [name, unit]));
  const buffer = parquetWriteBuffer({
    columnData: columns.map(({ name, values }) => ({
      name,
      type: 'DOUBLE' as const,
      nullable: true,
      data: Array.from(values, (value) => (Number.isFinite(value) ? value : null)),
    })),
    kvMetadata: [{ key: 'units', value: JSON.stringify(units) }],
  });
  return new Uint8Array(buffer);
}

function jsonText(channels: readonly ExportChannel[]): string {
  const plain = channels.map(({ name, unit, times, samples }) => ({
    name,
    unit,
    times: numbers(times),
    samples: numbers(samples),
  }));
  return JSON.stringify({ channels: plain });
}

/** JSON has no NaN: missing is null there. */
function numbers(values: ArrayLike<number>): readonly (number | null)[] {
  return Array.from(values, (value) => (Number.isFinite(value) ? value : null));
}
