import { answered, KINDS, type Outcome, type QuantityKind } from '../../../core/quantities/index.ts';
import { MEANINGS, matters, type Recording } from '../../../day/channels/index.ts';
import { type FileReading, recordingOf } from '../../desk/index.ts';
import { type ExportChannel, exportChannels } from '../../files/index.ts';
import { channelsOf, coverageRows } from '../../server/index.ts';
import { COLUMN_HELP } from '../column-decisions.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { exampleUnits } from '../example-units.ts';
import { FACT_HELP, factsFromOptions } from '../facts-options.ts';
import { type HeardSound, heardSound, soundsAmong } from '../heard-sound.ts';
import { checkedDecisions, loadedLog, type OpenedLog, openLog } from '../open-log.ts';
import { jsonText } from '../plain-json.ts';
import { recalled } from '../recalled.ts';
import { refuse, refuseOrWrong, wrong } from '../refuse.ts';
import { ROWS_HELP, ROWS_OPTION, rowsPerSecond } from '../rows-per-second.ts';
import { BANDS } from '../text/bands.ts';
import { coverageText } from '../text/coverage-text.ts';
import { readingText } from '../text/reading-text.ts';
import { soundText, type Told, toldBy } from '../text/sound-text.ts';
import { textTable } from '../text/table.ts';
import { checkedTarget, OVERWRITE_HELP, OVERWRITE_OPTION, outFormat, targetOf, writeOut } from '../write-out.ts';

export const readCommand: Command = {
  name: 'read',
  summary: 'what is in a log: columns, meanings, units, health, open questions',
  usage: 'knurl read FILE… [--column "NAME = MEANING, UNIT"]… [--out FILE.csv|.parquet|.json]',
  details: [
    'Reads delimited text in any dialect, Parquet and Arrow. Says what each column is believed to be, how sure, and why.',
    'A question is answered with --column; `knurl read --meanings` lists the meanings. A text above 64 MB is read in one',
    'pass and never held: its ranges, its columns and its questions are shown. Of a sound (WAV) it says how it was recorded and',
    'the engine speed that is heard in it, when the cylinders are stated.',
    '',
    ...COLUMN_HELP,
    ...FACT_HELP,
    '  --out FILE         write the channels of one log in SI with their units: .csv, .parquet or .json',
    ...OVERWRITE_HELP,
    ...ROWS_HELP,
    '  --coverage         which faults the logs together could show, what is lacking, and which could not be told apart',
    '  --meanings         list every meaning, with units that it may be written in',
  ].join('\n'),
  examples: [
    'knurl read engine.csv',
    'knurl read engine.csv --column "MAP = manifold pressure, kPa" --out engine.parquet',
    'knurl read engine.csv --column "MAP = manifold pressure, psi above ambient"',
    'knurl read engine.csv --json | less',
    'knurl read roller.csv engine.csv --coverage',
    'knurl read sound.wav --fact "cylinders = 6"',
    'knurl read --meanings',
  ],
  options: {
    ...ROWS_OPTION,
    ...OVERWRITE_OPTION,
    fact: { type: 'string', multiple: true },
    like: { type: 'string' },
    column: { type: 'string', multiple: true },
    out: { type: 'string' },
    coverage: { type: 'boolean' },
    meanings: { type: 'boolean' },
  },
  run: readFiles,
};

async function readFiles(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  if (asked.flag('meanings')) {
    surroundings.out(asked.flag('json') ? jsonText(MEANINGS) : meaningList());
    return 0;
  }
  if (asked.words.length === 0) return wrong('missing file: name at least one log', surroundings);
  const out = asked.text('out');
  if (out !== undefined && asked.words.length > 1)
    return wrong(`invalid --out: ${asked.words.length} logs were named, expected one`, surroundings);
  const format = out === undefined ? answered(undefined) : outFormat(out);
  if (!format.ok) return refuseOrWrong(format.refusal, surroundings);
  const place = out === undefined ? answered(undefined) : await checkedTarget(targetOf(out, asked, asked.words));
  if (!place.ok) return refuseOrWrong(place.refusal, surroundings);
  const rate = rowsPerSecond(asked);
  if (!rate.ok) return refuseOrWrong(rate.refusal, surroundings);
  const facts = await factsFromOptions(asked, { pull: [], coasts: [] });
  if (!facts.ok) return refuseOrWrong(facts.refusal, surroundings, 2);
  const recall = await recalled(asked, surroundings);
  const sounds = await soundsAmong(asked.words);
  const readings: ShownReading[] = [];
  const recordings: Recording[] = [];
  const open = (path: string): Promise<Outcome<OpenedLog>> => openLog(path, recall, { asked, surroundings });
  // A name that no file has is known only when all were opened; without one each is shown and let go.
  const known = new Map<string, Outcome<OpenedLog>>();
  if (asked.texts('column').length > 0)
    for (const path of asked.words) if (!sounds.has(path)) known.set(path, await open(path));
  const logs = [...known.values()].flatMap((log) => (log.ok ? [log.value] : []));
  const checked = checkedDecisions(logs, asked);
  if (!checked.ok) return refuseOrWrong(checked.refusal, surroundings);
  let worst: ExitCode = 0;
  const showing = { asked, surroundings, rate: rate.value, readings, recordings };
  for (const path of asked.words) {
    const code = sounds.has(path)
      ? await showSound(await heardSound({ path }, facts.value.engine, surroundings), showing)
      : await showLog(known.get(path) ?? (await open(path)), showing);
    worst = worseOf(worst, code);
    if (code === 2 || code === 130) break;
  }
  if (worst === 2 || worst === 130) return worst;
  if (asked.flag('coverage')) return coverageOfLogs(recordings, { asked, surroundings, worst });
  if (asked.flag('json')) surroundings.out(jsonText(readings));
  else if (asked.words.some((path) => !sounds.has(path)) && readings.length > 0) surroundings.out(BANDS);
  return worst;
}

/** What all logs together could tell. Without any that could be read, nothing is printed: the refusals stand already. */
function coverageOfLogs(
  recordings: readonly Recording[],
  { asked, surroundings, worst }: Pick<Showing, 'asked' | 'surroundings'> & { readonly worst: ExitCode },
): ExitCode {
  const channels = channelsOf(recordings);
  if (recordings.length === 0) return worst;
  const rows = coverageRows(channels, { vehicle: {} });
  surroundings.out(asked.flag('json') ? jsonText({ channels, rows }) : coverageText(rows, surroundings.width));
  return worst;
}

/** Cancelled and asked wrongly before no answer before an open decision. */
function worseOf(a: ExitCode, b: ExitCode): ExitCode {
  const order: readonly ExitCode[] = [0, 3, 4, 1, 2, 130, 70];
  return order.indexOf(a) >= order.indexOf(b) ? a : b;
}

interface Showing {
  readonly asked: Asked;
  readonly surroundings: Surroundings;
  readonly rate: number | undefined;
  readonly readings: ShownReading[];
  readonly recordings: Recording[];
}

/** A reading as it is printed; `told`: of a sound, what is heard in it. */
type ShownReading = FileReading & { readonly told?: Told };

async function showLog(log: Outcome<OpenedLog>, showing: Showing): Promise<ExitCode> {
  return log.ok ? show(log.value, showing) : refuseOrWrong(log.refusal, showing.surroundings);
}

/** A sound shows nothing of what a fault needs, so it has no part in the coverage. */
async function showSound(heard: Outcome<HeardSound>, { asked, surroundings, readings }: Showing): Promise<ExitCode> {
  if (!heard.ok) return refuseOrWrong(heard.refusal, surroundings);
  const { reading, recording } = heard.value;
  readings.push(
    recording.ok ? { ...reading, findings: recording.value.findings, told: toldBy(recording.value) } : reading,
  );
  if (!asked.flag('json') && !asked.flag('coverage')) surroundings.out(soundText(heard.value, surroundings.width));
  if (!recording.ok) return refuse(recording.refusal, surroundings);
  return asked.text('out') === undefined ? 0 : writeChannels(recording.value, { asked, surroundings });
}

async function show(log: OpenedLog, { asked, surroundings, rate, readings, recordings }: Showing): Promise<ExitCode> {
  const out = asked.text('out');
  const loaded =
    log.scanned && out === undefined && !asked.flag('coverage') ? undefined : await loadedLog(log, surroundings);
  const recording = loaded?.ok ? recordingOf(loaded.value, { rowsPerSecond: rate }) : loaded;
  const reading = recording?.ok ? { ...log.reading, findings: recording.value.findings } : log.reading;
  readings.push(reading);
  if (recording?.ok) recordings.push(recording.value);
  if (!asked.flag('json') && !asked.flag('coverage')) surroundings.out(readingText(log, reading, surroundings.width));
  if (recording && !recording.ok) return refuse(recording.refusal, surroundings);
  const written = out !== undefined && recording ? await writeChannels(recording.value, { asked, surroundings }) : 0;
  if (written !== 0) return written;
  return log.read.open.some(matters) ? 3 : 0;
}

/** `--out`: the channels of one recording in SI. */
async function writeChannels(
  recording: Recording,
  { asked, surroundings }: Pick<Showing, 'asked' | 'surroundings'>,
): Promise<ExitCode> {
  const out = asked.text('out') ?? '';
  const written = await writeOut(
    targetOf(out, asked, asked.words),
    recording.clock.times.length * recording.channels.length,
    (format) => exportChannels({ channels: exported(recording), format }),
  );
  if (!written.ok) return refuseOrWrong(written.refusal, surroundings);
  surroundings.err(`wrote ${out}\n`);
  return 0;
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

function meaningList(): string {
  return textTable(
    [{ heading: 'meaning' }, { heading: 'subject' }, { heading: 'what it is' }, { heading: 'written in, such as' }],
    Object.entries(MEANINGS).map(([name, { subject, title, kind }]) => [
      name.replaceAll('-', ' '),
      subject,
      title,
      name === 'unknown' || name === 'text' ? '' : `${exampleUnits(kind)}${zeroText(kind)}`,
    ]),
  );
}

/** From where a pressure of this kind counts when nothing else is written. */
function zeroText(kind: QuantityKind): string {
  if (kind === 'absolute-pressure' || kind === 'barometric-pressure') return ', absolute';
  if (kind === 'gauge-pressure') return ', above ambient';
  return kind === 'pressure-difference' ? ', a difference' : '';
}
