import { basename } from 'node:path';
import type { Finding } from '../../../core/quantities/index.ts';
import { matters, type Proposal, type Recording } from '../../../day/channels/index.ts';
import { analyseDay } from '../../../day/reports/index.ts';
import { readTable, recordingOf } from '../../desk/index.ts';
import { openTable } from '../../files/index.ts';
import { columnDecisions } from '../column-decisions.ts';
import type { Asked, Command, ExitCode, Surroundings } from '../command.ts';
import { FACT_HELP, factsFromOptions } from '../facts-options.ts';
import { jsonText } from '../plain-json.ts';
import { recalled } from '../recalled.ts';
import { refusalText } from '../text/findings.ts';
import { entryText } from '../text/pull-text.ts';
import { unitSystem } from '../units-option.ts';

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
  ].join('\n'),
  examples: [
    'knurl pull run.tsv --fact "pressure = 29 inHg"',
    'knurl pull pull-05-roller.csv pull-05-engine.csv --like plateau',
    'knurl pull roller.csv engine.csv --fact "equivalent mass = 450 ± 5 kg" --json',
  ],
  options: {
    fact: { type: 'string', multiple: true },
    like: { type: 'string' },
    column: { type: 'string', multiple: true },
  },
  run: readPull,
};

async function readPull(asked: Asked, surroundings: Surroundings): Promise<ExitCode> {
  if (asked.words.length < 1 || asked.words.length > 2) {
    surroundings.err('missing file: name one log, or a roller log and an engine log\n');
    return 2;
  }
  const facts = await factsFromOptions(asked, asked.words);
  if (!facts.ok) {
    surroundings.err(`${refusalText(facts.refusal)}\n`);
    return 2;
  }
  const recall = await recalled(asked, surroundings);
  const recordings = new Map<string, Recording>();
  const questions = new Map<string, readonly Proposal[]>();
  const findings: Finding[] = [];
  for (const path of asked.words) {
    const table = await openTable(path, { signal: surroundings.signal });
    const decided = table.ok ? columnDecisions(asked.texts('column'), table.value) : table;
    if (!table.ok || !decided.ok) {
      surroundings.err(`${refusalText(table.ok ? (decided.ok ? NOTHING : decided.refusal) : table.refusal)}\n`);
      return 1;
    }
    const read = readTable(table.value, (columnSet) => {
      const before = recall(columnSet) ?? facts.value.mappings.find((mapping) => mapping.columnSet === columnSet);
      return decided.value.length > 0 ? { columnSet, columns: [...(before?.columns ?? []), ...decided.value] } : before;
    });
    const waiting = read.open.filter(matters);
    if (waiting.length > 0) questions.set(basename(path), waiting);
    const recording = recordingOf(read);
    if (!recording.ok) {
      surroundings.err(`${refusalText(recording.refusal)}\n`);
      return 1;
    }
    recordings.set(basename(path), recording.value);
  }
  const report = analyseDay(facts.value, { recordings, questions, findings });
  const entry = report.entries[0];
  if (!entry) return 1;
  const style = { width: surroundings.width, system: unitSystem(asked) };
  surroundings.out(
    asked.flag('json')
      ? jsonText({ method: report.method, ...entry })
      : `${entryText(entry, style)}\n\n${report.cautions[0] ?? ''}`,
  );
  if (entry.questions.length > 0) return 3;
  return entry.result === undefined || entry.result.refusal !== undefined || entry.result.pulls.length === 0 ? 1 : 0;
}

const NOTHING = { kind: 'none', message: '' };
