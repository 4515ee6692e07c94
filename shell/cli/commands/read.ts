import { KINDS } from '../../../core/quantities/index.ts';
import { type Mapping, MEANINGS, matters, type Recording } from '../../../day/channels/index.ts';
import { type FileReading, fileReading, type ReadTable, readTable, recordingOf } from '../../desk/index.ts';
import { type ExportChannel, exportChannels, openTable } from '../../files/index.ts';
import { columnDecisions } from '../column-decisions.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { jsonText } from '../plain-json.ts';
import { work } from '../progress.ts';
import { recalled } from '../recalled.ts';
import { findingLines, refusalText } from '../text/findings.ts';
import { textTable, wrapped } from '../text/table.ts';
import { writeOut } from '../write-out.ts';

export const readCommand: Command = {
  name: 'read',
  summary: 'what is in a log: columns, meanings, units, health, open questions',
  usage: 'knurl read FILE… [--column "NAME = MEANING, UNIT"]… [--out FILE.csv|.parquet|.json]',
  details: [
    'Reads delimited text in any dialect, Parquet and Arrow. Says what each column is believed to be, how sure, and why.',
    'A question is answered with --column; `knurl read --meanings` lists the meanings.',
    '',
    '  --column TEXT      decide a column: "P1 = manifold pressure, kPa"; repeat it for more',
    '  --out FILE         write the channels in SI with their units: .csv, .parquet or .json',
    '  --meanings         list every meaning',
  ].join('\n'),
  examples: [
    'knurl read pull-05-engine.csv',
    'knurl read run.tsv --column "P1 = manifold pressure, kPa" --out run.parquet',
    'knurl read run.tsv --json | less',
  ],
  options: { column: { type: 'string', multiple: true }, out: { type: 'string' }, meanings: { type: 'boolean' } },
  run: readFiles,
};

async function readFiles(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  if (asked.flag('meanings')) {
    surroundings.out(meaningList());
    return 0;
  }
  if (asked.words.length === 0) {
    surroundings.err('missing file: name at least one log\n');
    return 2;
  }
  const recall = await recalled(asked, surroundings);
  const readings: FileReading[] = [];
  let worst: ExitCode = 0;
  for (const path of asked.words) {
    const progress = work(surroundings);
    const opened = await openTable(path, {
      signal: surroundings.signal,
      ...(progress.progress && {
        progress: (share: number) => progress.progress?.({ what: `reading ${path}`, share }),
      }),
    });
    progress.done();
    if (!opened.ok) {
      surroundings.err(`${refusalText(opened.refusal)}\n`);
      worst = opened.refusal.kind === 'cancelled' ? 130 : 1;
      continue;
    }
    const decided = columnDecisions(asked.texts('column'), opened.value);
    if (!decided.ok) {
      surroundings.err(`${refusalText(decided.refusal)}\n`);
      return 2;
    }
    const read = readTable(opened.value, (columnSet) => withDecisions(recall(columnSet), decided.value, columnSet));
    const code = await show(read, { asked, surroundings, path, readings });
    worst = worst === 0 ? code : worst;
  }
  if (asked.flag('json')) surroundings.out(jsonText(readings));
  return worst;
}

/** Channels in SI; what must not be used is left empty. */
function exported({ clock, channels }: Recording): readonly ExportChannel[] {
  return channels.map(({ name, kind, samples, mask }) => ({
    name,
    unit: KINDS[kind].si,
    times: clock.times,
    samples: samples.map((sample, i) => (mask[i] === 0 ? sample : Number.NaN)),
  }));
}

function withDecisions(
  before: Mapping | undefined,
  decided: Mapping['columns'],
  columnSet: string,
): Mapping | undefined {
  if (decided.length === 0) return before;
  const names = new Set(decided.map(({ column }) => column));
  return { columnSet, columns: [...(before?.columns ?? []).filter(({ column }) => !names.has(column)), ...decided] };
}

interface Showing {
  readonly asked: Asked;
  readonly surroundings: Surroundings;
  readonly path: string;
  readonly readings: FileReading[];
}

async function show(read: ReadTable, { asked, surroundings, path, readings }: Showing): Promise<ExitCode> {
  const recording = recordingOf(read);
  const reading = fileReading(read, 0);
  const findings = recording.ok ? recording.value.findings : [...reading.findings];
  readings.push({ ...reading, findings });
  if (!asked.flag('json'))
    surroundings.out(readingText(read, { path, findings: findingLines(findings, surroundings.width) }));
  if (!recording.ok) surroundings.err(`${refusalText(recording.refusal)}\n`);
  const out = asked.text('out');
  if (out !== undefined && recording.ok) {
    const written = await writeOut(out, (format) => exportChannels({ channels: exported(recording.value), format }));
    if (!written.ok) {
      surroundings.err(`${refusalText(written.refusal)}\n`);
      return 1;
    }
    surroundings.err(`wrote ${out}\n`);
  }
  if (!recording.ok) return 1;
  return read.open.some(matters) ? 3 : 0;
}

function readingText(
  { table, proposals, open }: ReadTable,
  { path, findings }: { path: string; findings: readonly string[] },
): string {
  const rows = proposals.map(({ column, meaning, position, unit, confidence, origin, reason }, i) => [
    column,
    table.columns[i]?.unit ?? '',
    `${MEANINGS[meaning].title}${position === undefined ? '' : `, ${position}`}`,
    unit === '1' ? '' : unit,
    origin === 'measured' ? '' : origin,
    `${Math.round(100 * confidence)} %`,
    reason,
  ]);
  const columns = [
    { heading: 'column', most: 32 },
    { heading: 'unit' },
    { heading: 'believed to be' },
    { heading: 'in' },
    { heading: 'kind' },
    { heading: 'sure', align: 'right' as const },
    { heading: 'because', most: 90 },
  ];
  const questions = open.map(({ column, question }) => wrapped(`? ${column}: ${question ?? 'what is it?'}`, 100, '  '));
  return [
    `${path}: ${table.rows} rows, ${table.columns.length} columns, ${formatText(table)}`,
    '',
    textTable(columns, rows),
    ...(findings.length > 0 ? ['', 'Findings', ...findings] : []),
    ...(questions.length > 0 ? ['', 'To be decided (--column "NAME = MEANING, UNIT")', ...questions] : []),
  ].join('\n');
}

function formatText({ format }: ReadTable['table']): string {
  if (format.kind !== 'delimited') return format.kind;
  const { delimiter, decimal, encoding, headerLine, unitLine } = format.dialect;
  const names = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar', ' ': 'space' };
  const units = unitLine > 0 ? `, units in line ${unitLine}` : '';
  return `${names[delimiter]}-delimited ${encoding}, decimal ${decimal === '.' ? 'point' : 'comma'}, header in line ${headerLine}${units}`;
}

function meaningList(): string {
  return textTable(
    [{ heading: 'meaning' }, { heading: 'subject' }, { heading: 'what it is' }],
    Object.entries(MEANINGS).map(([name, { subject, title }]) => [name.replaceAll('-', ' '), subject, title]),
  );
}
