import { median } from '../../../core/numerics/index.ts';
import { answered, type Finding, KINDS, type Outcome, refused, toSi, unitOf } from '../../../core/quantities/index.ts';
import { type Channel, REASONS, type Recording } from '../channel.ts';
import type { ColumnMapping } from '../mapping.ts';
import { MEANINGS } from '../meanings.ts';
import { shapeOf } from '../recognition/shape.ts';
import { brokenTime, namedAsTime } from '../recognition/time-column.ts';
import type { Column, Table } from '../table.ts';
import { refreshRates } from './refresh.ts';
import { startTime } from './start-time.ts';
import { type TimeBase, timeBase } from './time-base.ts';
import { unwrapped } from './wrap.ts';

/** rowsPerSecond [Hz]: for a table with a row counter or no time at all. barometricPressure [Pa]: bridges gauge and absolute. */
export interface RecordingInput {
  readonly table: Table;
  readonly mapping: readonly ColumnMapping[];
  readonly rowsPerSecond?: number;
  readonly barometricPressure?: number;
}

/**
 * A table with its decided columns as channels in SI on one clock. Every column becomes a channel (undecided ones `unknown`),
 * only the column that became the clock does not. Times of day count from the first row. Missing cells stay NaN with their reason; held values are kept, `refreshRate` tells.
 *
 * Refused: no time column and no row rate, fewer than two rows with a time, or a row rate that is not above zero.
 */
export function toRecording(input: RecordingInput): Outcome<Recording> {
  const { table, mapping } = input;
  const findings: Finding[] = [...table.findings];
  const decided = new Map(mapping.map((column) => [column.column, column]));
  for (const { column } of mapping) {
    if (!table.columns.some(({ name }) => name === column))
      findings.push(about('missing-column', `missing column "${column}", named by the mapping`, column));
  }
  const clockColumn = table.columns.find(({ name }) => decided.get(name)?.meaning === 'time');
  const written = writtenTime(input, clockColumn, decided.get(clockColumn?.name ?? ''));
  if (!written.ok) return written;
  findings.push(...written.findings);
  const origin = originOf(written.value);
  const base = timeBase(origin === 0 ? written.value : written.value.map((time) => time - origin));
  if (base.rows.length < 2) {
    return refused({
      kind: 'missing-time',
      message: `missing time: ${base.rows.length} rows of ${table.rows} have one`,
      place: { file: table.file },
    });
  }
  findings.push(...base.findings);
  const rest = table.columns.filter((column) => column !== clockColumn);
  const channels = rest.map((column) => channelOf({ column, decided: decided.get(column.name), base, findings }));
  const bridged = bridgedPressures({ channels, mapping, given: input.barometricPressure, findings });
  const rates = refreshRates({ times: base.times, step: base.step, channels: bridged.map(({ samples }) => samples) });
  const started = startTime(table, clockColumn, { first: base.times[0], origin });
  const clock = {
    name: clockColumn?.name ?? 'rows',
    times: base.times,
    pieces: base.pieces,
    ...(started ? { started } : {}),
  };
  const named = findings.map((finding) => ({ ...finding, place: { file: table.file, ...finding.place } }));
  return answered({
    source: table.source,
    file: table.file,
    clock,
    channels: bridged.map((channel, i) => ({ ...channel, refreshRate: rates[i] })),
    findings: named,
  });
}

/** A clock that begins later than this tells the time of day, or counts from somewhere else [s]. @source our default */
const ELSEWHERE = 3600;

/** Where a record counts from, on the clock as written [s]: that clock's own zero, or the first row where its zero is far away. */
function originOf(written: Float64Array): number {
  const first = written.find((time) => Number.isFinite(time)) ?? 0;
  return Math.abs(first) > ELSEWHERE ? first : 0;
}

/** Time per row in s, unwrapped; from the row number when there is only a row rate. */
function writtenTime(
  { table, rowsPerSecond }: RecordingInput,
  column: Column | undefined,
  decided: ColumnMapping | undefined,
): Outcome<Float64Array> {
  if (rowsPerSecond !== undefined && !(rowsPerSecond > 0 && Number.isFinite(rowsPerSecond))) {
    return refused({
      kind: 'invalid-row-rate',
      message: `invalid rows per second: ${rowsPerSecond}, expected more than 0`,
      numbers: { rowsPerSecond },
    });
  }
  if (column && decided) {
    const unit = unitOf(decided.unit);
    const steps = Array.from(column.samples.subarray(1), (value, i) => value - column.samples[i]).filter(
      (step) => step > 0,
    );
    const { written, findings } = unwrapped(column.samples, median(steps, 'skip'));
    const seconds = written.map((value) => toSi(value / (decided.divisor ?? 1), unit));
    return answered(
      seconds,
      findings.map((finding) => ({ ...finding, place: { channel: column.name } })),
    );
  }
  if (rowsPerSecond === undefined) {
    return refused({
      kind: 'missing-time',
      message: `missing time: ${whyNoTime(table)}; how many rows per second were written?`,
      place: { file: table.file },
    });
  }
  return answered(
    Float64Array.from({ length: table.rows }, (_, i) => i / rowsPerSecond),
    [
      {
        kind: 'time-from-rows',
        weight: 'note',
        message: `time is the row number at ${rowsPerSecond} rows per second; missing rows cannot be seen`,
        numbers: { rowsPerSecond },
      },
    ],
  );
}

/** A column may be named as time and be none: that is worth more than that there is no other. */
function whyNoTime(table: Table): string {
  const broken = table.columns.flatMap((column) => {
    const why = namedAsTime(column) ? brokenTime(column, shapeOf(column)) : undefined;
    return why === undefined ? [] : [`"${column.name}": ${why}`];
  });
  return broken[0] ?? 'no column counts it';
}

interface Making {
  readonly column: Column;
  readonly decided: ColumnMapping | undefined;
  readonly base: TimeBase;
  readonly findings: Finding[];
}

function channelOf({ column, decided, base, findings }: Making): Channel {
  if (!decided)
    findings.push({
      ...about('undecided-column', `column "${column.name}" is not decided: kept as an unnamed number`, column.name),
      weight: 'note',
    });
  const text = column.writing === 'text' && decided?.meaning === undefined;
  const meaning = text ? 'text' : (decided?.meaning ?? 'unknown');
  const { kind } = MEANINGS[meaning];
  const unit = unitOf(decided?.unit ?? '1');
  const { rows } = base;
  if (decided && meaning !== 'unknown' && unit.dimension !== KINDS[kind].dimension) {
    findings.push({
      ...about(
        'foreign-unit',
        `"${column.name}" in ${unit.symbol} is kept as written: no unit of ${MEANINGS[meaning].title}`,
        column.name,
      ),
      weight: 'note',
    });
  }
  const samples = new Float64Array(rows.length);
  const mask = new Uint8Array(rows.length);
  for (let i = 0; i < rows.length; i++) {
    const value = column.samples[rows[i]];
    const good = Number.isFinite(value);
    samples[i] = good ? toSi(value / (decided?.divisor ?? 1), unit) : Number.NaN;
    mask[i] = good
      ? REASONS.measured
      : column.mask[rows[i]] || (Number.isNaN(value) ? REASONS.empty : REASONS.unreadable);
  }
  return {
    ...{ name: column.name, meaning, kind, samples, mask, refreshRate: 1 / base.step },
    origin: decided?.origin ?? 'measured',
    ...(decided?.position === undefined ? {} : { position: decided.position }),
  };
}

interface Bridging {
  readonly channels: readonly Channel[];
  readonly mapping: readonly ColumnMapping[];
  readonly given: number | undefined;
  readonly findings: Finding[];
}

/** Pressures written from the other zero are moved by ambient pressure: given, or the middle of the file's own barometer. */
function bridgedPressures({ channels, mapping, given, findings }: Bridging): readonly Channel[] {
  const barometer = channels.find(({ meaning }) => meaning === 'barometric-pressure');
  const own = barometer ? median(barometer.samples, 'skip') : Number.NaN;
  const ambient = given ?? (Number.isFinite(own) ? own : undefined);
  return channels.map((channel) => {
    const zero = mapping.find(({ column }) => column === channel.name)?.zero;
    if (zero === undefined) return channel;
    if (ambient === undefined) {
      findings.push({
        ...about(
          'missing-barometer',
          `missing barometric pressure: "${channel.name}" counts from ${zero} and cannot be used`,
          channel.name,
        ),
        weight: 'fault',
      });
      return { ...channel, meaning: 'unknown', kind: MEANINGS.unknown.kind };
    }
    const shift = zero === 'ambient' ? ambient : -ambient;
    findings.push({
      ...about('pressure-bridged', `"${channel.name}" counts from ${zero}: moved by ambient pressure`, channel.name),
      weight: 'note',
      numbers: { ambient },
    });
    return { ...channel, samples: channel.samples.map((value) => value + shift) };
  });
}

function about(kind: string, message: string, channel: string): Finding {
  return { kind, weight: 'doubt', message, place: { channel } };
}
