import { basename } from 'node:path';
import { answered, type Outcome, refused } from '../../../core/quantities/index.ts';
import { matters, type Proposal, type Recording } from '../../../day/channels/index.ts';
import type { DayFacts, PullResult } from '../../../day/pulls/index.ts';
import { analyseDay, type DayLogs } from '../../../day/reports/index.ts';
import { exportedCurves, recordingOf } from '../../desk/index.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { FACT_HELP, factsFromOptions } from '../facts-options.ts';
import { loadedLog, openLog } from '../open-log.ts';
import { jsonText } from '../plain-json.ts';
import { recalled } from '../recalled.ts';
import { refuse, wrong } from '../refuse.ts';
import { ROWS_HELP, ROWS_OPTION, rowsPerSecond } from '../rows-per-second.ts';
import { refusalText } from '../text/findings.ts';
import { entryText } from '../text/pull-text.ts';
import { wrapped } from '../text/table.ts';
import { unitSystem } from '../units-option.ts';
import { outFormat, written } from '../write-out.ts';

export const pullCommand: Command = {
  name: 'pull',
  summary: 'what one run made, from one log or from a roller log and an engine log',
  usage: 'knurl pull FILE [FILE] [--fact "KEY = VALUE"]… [--like FOLDER] [--column "NAME = MEANING, UNIT"]…',
  details: [
    'Finds the full-load pulls, joins two clocks, and prints power and torque with every line of the chain, the band,',
    'the budget of the uncertainty, the ambient rules side by side, and what must be known about the answer.',
    '',
    ...FACT_HELP,
    '  --column TEXT      decide a column: "P1 = manifold pressure, kPa"; repeat it for more',
    '  --out FILE         write the curves point by point in SI: .csv, .parquet or .json',
    ...ROWS_HELP,
  ].join('\n'),
  examples: [
    'knurl pull roller.csv --fact "equivalent mass = 450 ± 5 kg" --fact "pressure = 29 inHg"',
    'knurl pull roller.csv engine.csv --like plateau',
    'knurl pull roller.csv engine.csv --fact "equivalent mass = 450 ± 5 kg" --json',
  ],
  options: {
    ...ROWS_OPTION,
    fact: { type: 'string', multiple: true },
    like: { type: 'string' },
    column: { type: 'string', multiple: true },
    out: { type: 'string' },
  },
  run: readPull,
};

async function readPull(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  if (asked.words.length < 1 || asked.words.length > 2)
    return wrong(
      `${asked.words.length === 0 ? 'missing file' : `${asked.words.length} files`}: name one log, or a roller log and an engine log`,
      surroundings,
    );
  const rate = rowsPerSecond(asked);
  const facts = rate.ok ? await factsFromOptions(asked, asked.words) : rate;
  if (!facts.ok || !rate.ok) return wrong(refusalText(facts.ok ? NOTHING : facts.refusal), surroundings);
  const logs = await readLogs(facts.value, rate.value, { asked, surroundings });
  if (!logs.ok)
    return logs.refusal.kind === 'invalid-option'
      ? wrong(refusalText(logs.refusal), surroundings)
      : refuse(logs.refusal, surroundings);
  const { atOnce = (compute) => compute() } = surroundings;
  const report = atOnce(() => analyseDay(facts.value, logs.value));
  const [entry] = report.entries;
  if (!entry) throw new Error('the entry of the command line is gone');
  const style = { width: surroundings.width, system: unitSystem(asked) };
  surroundings.out(
    asked.flag('json')
      ? jsonText({ method: report.method, ...entry, cautions: report.cautions })
      : `${entryText(entry, style)}\n\n${wrapped(report.cautions[0] ?? '', style.width)}`,
  );
  const out = asked.text('out');
  if (out !== undefined) {
    const saved = await saveCurves(out, entry.result?.pulls ?? []);
    if (!saved.ok)
      return saved.refusal.kind === 'invalid-option'
        ? wrong(refusalText(saved.refusal), surroundings)
        : refuse(saved.refusal, surroundings);
    surroundings.err(`wrote ${out}\n`);
  }
  if (entry.questions.length > 0) return 3;
  const claimed = entry.result?.pulls.some(({ refusal }) => !refusal) || (entry.result?.losses.length ?? 0) > 0;
  return entry.result?.refusal === undefined && claimed ? 0 : 1;
}

async function saveCurves(path: string, pulls: readonly PullResult[]): Promise<Outcome<string>> {
  const format = outFormat(path);
  if (!format.ok) return format;
  if (pulls.length === 0)
    return refused({ kind: 'missing-curve', message: `missing curve: nothing to write into ${path}` });
  return written(path, exportedCurves(pulls, format.value));
}

async function readLogs(
  facts: DayFacts,
  rate: number | undefined,
  { asked, surroundings }: { readonly asked: Asked; readonly surroundings: Surroundings },
): Promise<Outcome<DayLogs>> {
  const remembered = await recalled(asked, surroundings);
  const own = (columnSet: string) => facts.mappings.find((mapping) => mapping.columnSet === columnSet);
  const recordings = new Map<string, Recording>();
  const questions = new Map<string, readonly Proposal[]>();
  for (const path of asked.words) {
    const log = await openLog(path, (columnSet) => own(columnSet) ?? remembered(columnSet), { asked, surroundings });
    const loaded = log.ok ? await loadedLog(log.value, surroundings) : log;
    if (!loaded.ok) return loaded;
    const waiting = loaded.value.open.filter(matters);
    if (waiting.length > 0) questions.set(basename(path), waiting);
    const recording = recordingOf(loaded.value, rate);
    if (!recording.ok) return recording;
    recordings.set(basename(path), recording.value);
  }
  return answered({ recordings, questions, findings: [] });
}

const NOTHING = { kind: 'none', message: '' };
