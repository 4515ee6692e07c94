import { answered, type Finding, type Outcome, refused } from '../../../core/quantities/index.ts';
import { matters, type Proposal, type Recording } from '../../../day/channels/index.ts';
import type { DayFacts, PullResult } from '../../../day/pulls/index.ts';
import { analyseDay, type DayLogs, type DayReport, type EntryReport } from '../../../day/reports/index.ts';
import { decidedTogether, exportedCurves, type ReadTable, recordingsOf } from '../../desk/index.ts';
import { writeThresholds } from '../../server/index.ts';
import { COLUMN_HELP } from '../column-decisions.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { FACT_HELP, factsFromOptions } from '../facts-options.ts';
import { heardSound, soundsAmong } from '../heard-sound.ts';
import { type NamedFile, namedFiles } from '../named-files.ts';
import { checkedDecisions, loadedLog, type OpenedLog, openLog } from '../open-log.ts';
import { plainEntry } from '../plain-entry.ts';
import { jsonText } from '../plain-json.ts';
import { recalled } from '../recalled.ts';
import { refuseOrWrong, wrong } from '../refuse.ts';
import { ROWS_HELP, ROWS_OPTION, rowsPerSecond } from '../rows-per-second.ts';
import { asksToStop } from '../stops.ts';
import { runText } from '../text/run-text.ts';
import { thresholdsText } from '../text/thresholds-text.ts';
import { setThresholds, THRESHOLD_HELP, THRESHOLD_OPTIONS } from '../threshold-options.ts';
import { unitSystem } from '../units-option.ts';
import {
  checkedTarget,
  OVERWRITE_HELP,
  OVERWRITE_OPTION,
  outFormat,
  type Target,
  targetOf,
  written,
} from '../write-out.ts';

export const pullCommand: Command = {
  name: 'pull',
  summary: 'what one run made, from one log or from a roller log and an engine log',
  usage:
    'knurl pull FILE [FILE] [SOUND.wav]… [--coast FILE]… [--fact "KEY = VALUE"]… [--like FOLDER] [--column "NAME = MEANING, UNIT"]…',
  details: [
    'Finds the full-load pulls, joins two clocks, and prints the highest powers with their bands (of a single pull the highest',
    'torques too), every line of the chain at the highest power, the budget of the uncertainty, the ambient rules side by side,',
    'and what must be known about the answer. The whole curves are written with --out. A sound (WAV) beside the logs is laid on',
    'them by the engine speed in it when the cylinders are stated; nothing of the answer rests on it.',
    '',
    ...FACT_HELP,
    '  --coast FILE       the roller’s log of a coast-down with the clutch open: its loss leads from wheel power to engine',
    '                     power. It may be one of the logs of the run; give it twice for one before and one after',
    '  --nudge TIME       moves the engine log’s clock against the roller’s: --nudge "0.12 s", or --nudge="-0.12 s". Where no',
    '                     offset was found it is the offset itself: time in the engine log less time in the roller’s',
    ...COLUMN_HELP,
    ...THRESHOLD_HELP,
    '  --out FILE         write the curves point by point in SI: .csv, .parquet or .json',
    ...OVERWRITE_HELP,
    ...ROWS_HELP,
  ].join('\n'),
  examples: [
    'knurl pull roller.csv --fact "equivalent mass = 450 ± 5 kg" --fact "pressure = 29 inHg"',
    'knurl pull roller.csv engine.csv --like plateau',
    'knurl pull roller.csv engine.csv --like plateau --set "boost-overshoot.pressure = 10 kPa"',
    'knurl pull roller.csv engine.csv sound.wav --like plateau',
    'knurl pull --thresholds',
    'knurl pull roller.csv engine.csv --like plateau --coast coast.csv --fact "inertia = 0.16 kg·m²"',
    'knurl pull roller.csv engine.csv --fact "equivalent mass = 450 ± 5 kg" --json',
  ],
  options: {
    ...ROWS_OPTION,
    ...OVERWRITE_OPTION,
    fact: { type: 'string', multiple: true },
    like: { type: 'string' },
    ...THRESHOLD_OPTIONS,
    coast: { type: 'string', multiple: true },
    nudge: { type: 'string' },
    column: { type: 'string', multiple: true },
    out: { type: 'string' },
  },
  run: readPull,
};

async function readPull(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  const sounds = await soundsAmong(asked.words);
  const count = asked.words.length - asked.words.filter((path) => sounds.has(path)).length;
  if (asked.flag('thresholds') && asked.words.length === 0) return listThresholds(asked, surroundings);
  if (count < 1 || count > 2)
    return wrong(
      `${count === 0 ? (sounds.size > 0 ? 'missing log beside the sound' : 'missing file') : `${count} files`}: name one log, or a roller log and an engine log`,
      surroundings,
    );
  const files = namedFiles([...asked.words, ...asked.texts('coast')]);
  const question = await questionOf(files, sounds, asked);
  if (!question.ok) return refuseOrWrong(question.refusal, surroundings, 2);
  const { facts, rate, target } = question.value;
  if (asked.flag('thresholds')) return listThresholds(asked, surroundings, facts);
  const logs = await readLogs(files, { facts, rate, sounds }, { asked, surroundings });
  if (!logs.ok) return refuseOrWrong(logs.refusal, surroundings);
  const { atOnce = (compute) => compute() } = surroundings;
  const report = atOnce(() => analyseDay(facts, logs.value));
  const run = runOf(report);
  surroundings.out(
    asked.flag('json')
      ? jsonText({
          method: report.method,
          ...plainEntry(run.entry),
          coasts: run.coasts.map(plainEntry),
          findings: report.findings,
          cautions: report.cautions,
        })
      : runText(
          { ...run, caution: report.cautions[0] ?? '' },
          { width: surroundings.width, system: unitSystem(asked) },
        ),
  );
  if (target !== undefined) {
    const saved = await saveCurves(target, run.entry.result?.pulls ?? []);
    if (!saved.ok) return refuseOrWrong(saved.refusal, surroundings);
    surroundings.err(`wrote ${target.path}\n`);
  }
  return codeOf(run);
}

interface PullQuestion {
  readonly facts: DayFacts;
  readonly rate: number | undefined;
  readonly target: Target | undefined;
}

/** What the options say; everything that can be refused before a log is read. */
async function questionOf(
  files: readonly NamedFile[],
  sounds: ReadonlySet<string>,
  asked: Asked,
): Promise<Outcome<PullQuestion>> {
  const out = asked.text('out');
  const inputs = files.map(({ path }) => path);
  const target = out === undefined ? undefined : targetOf(out, asked, inputs);
  const format = out === undefined ? answered(undefined) : outFormat(out);
  if (!format.ok) return format;
  const place = target === undefined ? answered(undefined) : await checkedTarget(target);
  if (!place.ok) return place;
  const rate = rowsPerSecond(asked);
  if (!rate.ok) return rate;
  const nameOf = (path: string): readonly string[] => files.flatMap((file) => (file.path === path ? [file.name] : []));
  const facts = await factsFromOptions(asked, {
    pull: asked.words.filter((path) => !sounds.has(path)).flatMap(nameOf),
    sounds: [...sounds].flatMap(nameOf),
    coasts: asked.texts('coast').flatMap(nameOf),
  });
  const set = facts.ok ? setThresholds(asked, facts.value) : facts;
  return set.ok ? answered({ facts: set.value, rate: rate.value, target }) : set;
}

/** Every number that decides, as it stands for this question. */
async function listThresholds(asked: Asked, surroundings: Surroundings, known?: DayFacts): Promise<ExitCode> {
  const base = known ? answered(known) : await factsFromOptions(asked, { pull: [], coasts: [] });
  const facts = base.ok && !known ? setThresholds(asked, base.value) : base;
  if (!facts.ok) return refuseOrWrong(facts.refusal, surroundings, 2);
  const { thresholds } = writeThresholds('', facts.value);
  surroundings.out(asked.flag('json') ? jsonText(thresholds) : thresholdsText(thresholds, surroundings.width));
  return 0;
}

/** The run that was asked about, which stands last, and the coast-downs that were named for it. */
function runOf({ entries }: DayReport): { readonly entry: EntryReport; readonly coasts: readonly EntryReport[] } {
  const entry = entries.at(-1);
  if (!entry) throw new Error('the entry of the command line is gone');
  return { entry, coasts: entries.slice(0, -1) };
}

function codeOf({ entry, coasts }: ReturnType<typeof runOf>): ExitCode {
  if ([entry, ...coasts].some(({ questions }) => questions.length > 0)) return asksToStop([entry]) ? 4 : 3;
  const claimed = entry.result?.pulls.some(({ refusal }) => !refusal) || (entry.result?.losses.length ?? 0) > 0;
  if (entry.result?.refusal !== undefined || !claimed) return 1;
  return asksToStop([entry]) ? 4 : 0;
}

async function saveCurves(target: Target, pulls: readonly PullResult[]): Promise<Outcome<string>> {
  const format = outFormat(target.path);
  if (!format.ok) return format;
  if (pulls.length === 0)
    return refused({ kind: 'missing-curve', message: `missing curve: nothing to write into ${target.path}` });
  return written(target, exportedCurves(pulls, format.value));
}

async function readLogs(
  files: readonly NamedFile[],
  { facts, rate, sounds }: Pick<PullQuestion, 'facts' | 'rate'> & { readonly sounds: ReadonlySet<string> },
  { asked, surroundings }: { readonly asked: Asked; readonly surroundings: Surroundings },
): Promise<Outcome<DayLogs>> {
  const remembered = await recalled(asked, surroundings);
  const own = (columnSet: string) => facts.mappings.find((mapping) => mapping.columnSet === columnSet);
  const logs = new Map<string, OpenedLog>();
  for (const { name, path } of files) {
    if (sounds.has(path)) continue;
    const log = await openLog(path, (columnSet) => own(columnSet) ?? remembered(columnSet), { asked, surroundings });
    if (!log.ok) return log;
    logs.set(name, log.value);
  }
  const checked = checkedDecisions([...logs.values()], asked);
  if (!checked.ok) return checked;
  const together = decidedTogether(new Map([...logs].map(([name, { read }]) => [name, read])), { mappings: [] });
  const questions = new Map<string, readonly Proposal[]>();
  const reads = new Map<string, ReadTable>();
  for (const [name, log] of logs) {
    const read = together.get(name) ?? log.read;
    const loaded = await loadedLog({ ...log, read }, surroundings);
    if (!loaded.ok) return loaded;
    reads.set(name, { ...loaded.value, table: { ...loaded.value.table, file: name } });
    const waiting = read.open.filter(matters);
    if (waiting.length > 0) questions.set(name, waiting);
  }
  const recordings = new Map<string, Recording>();
  const made = recordingsOf(reads, { rowsPerSecond: rate, ambientPressure: facts.ambient.pressure?.value });
  for (const [name, recording] of made) {
    if (!recording.ok) return recording;
    recordings.set(name, recording.value);
  }
  const heard = await readSounds(
    files.filter(({ path }) => sounds.has(path)),
    facts,
    surroundings,
  );
  if (!heard.ok) return heard;
  for (const [name, recording] of heard.value.recordings) recordings.set(name, recording);
  return answered({ ...heard.value, recordings, questions });
}

/** Sounds beside the logs. One that cannot be read takes no answer away: it is a finding. */
async function readSounds(
  files: readonly NamedFile[],
  { engine }: DayFacts,
  surroundings: Surroundings,
): Promise<Outcome<Omit<DayLogs, 'questions'>>> {
  const recordings = new Map<string, Recording>();
  const unread = new Map<string, string>();
  for (const file of files) {
    const heard = await heardSound(file, engine, surroundings);
    if (!heard.ok && heard.refusal.kind === 'cancelled') return heard;
    const recording = heard.ok ? heard.value.recording : heard;
    if (recording.ok) recordings.set(file.name, recording.value);
    else unread.set(file.name, recording.refusal.message);
  }
  const findings = [...unread].map(
    ([file, why]): Finding => ({
      kind: 'log-not-read',
      weight: 'fault',
      message: `${file} could not be read: ${why}`,
      place: { file },
    }),
  );
  return answered({ recordings, unread, findings });
}
